package check

import "fmt"

func ventPin() Rule {
	return Rule{
		ID: "vent-pin", Title: "a pinned vent lets air out",
		Limit:  "none: warn where its bore meets no channel, note where it leaves a wall of less than two lines beside one",
		Source: "geometry; two lines of the printer as the least wall: " + cp,
		Key:    "buck.vent.pin",
		Run: func(j *Job) []Finding {
			var out []Finding
			for i, p := range j.Layout.Pins {
				where := fmt.Sprintf("buck.vent.pin[%d] at %.4g, %.4g", i, p.At.X, p.At.Y)
				switch {
				case p.Shut:
					out = append(out, told(Warn, where, "its bore meets no channel under the buck", "no air leaves through it: "+p.move()))
				case p.Thin:
					out = append(out, told(Note, where, "its bore leaves a wall too thin to print beside a channel", "the gap is harmless unless the wall breaks off: "+p.move()))
				}
			}
			return out
		},
	}
}

// move says where a pinned vent would stand well.
func (p PinFact) move() string {
	if p.Better == p.At {
		return "take the pin out, or make buck.vent.bore larger"
	}
	return fmt.Sprintf("pin it at %.2f, %.2f", p.Better.X, p.Better.Y)
}
