package check

import (
	"fmt"

	"buckwright/generate/forming"
)

func evacuation() Rule {
	const id = "evacuation"
	return Rule{
		ID: id, Title: "the air leaves each pocket before the sheet chills",
		Limit: "1 s until the sheet feels 90 % of the vacuum", Unit: Second,
		Source: "flow through holes: NACA Report 1135, 1953; 0.1 to 1 s for thin sheet: Throne, Technology of Thermoforming, 1996, from memory, confirm",
		Key:    "buck.vent.pitch",
		Run: func(j *Job) []Finding {
			limit := j.limit(id, forming.Quick)
			var out []Finding
			for _, a := range j.Air {
				where := fmt.Sprintf("pocket of %s through %d vents of %s", a.Pocket, a.Holes, MM.text(a.Diameter))
				out = append(out, most(Warn, Second, where, a.Time, limit, a.fix())...)
			}
			return out
		},
	}
}

// fix says what would let the air out sooner.
func (a AirFact) fix() string {
	switch {
	case a.By == forming.ByPump:
		return "the pump is too slow for this pocket, more vents do not help: use a former with a tank (former.tank) or a larger former.pump"
	case a.By == forming.ByTank:
		return fmt.Sprintf("tank and pocket meet at %s of pressure, more vents do not help: use a larger former.tank, or pump it lower", KPa.text(a.Ends))
	case a.Needed > a.Holes:
		return fmt.Sprintf("%d vents would do: set them closer (buck.vent.pitch), pin more (buck.vent.pin), or make them larger (buck.vent.diameter)", a.Needed)
	}
	return "set vents closer (buck.vent.pitch), pin more (buck.vent.pin), or make them larger (buck.vent.diameter)"
}
