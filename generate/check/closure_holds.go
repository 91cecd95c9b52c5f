package check

import "buckwright/params"

// closureName is a kind of closure in words.
func closureName(kind string) string {
	switch kind {
	case "none":
		return "lid's weight alone (closure.kind: none)"
	case "seal":
		return "label across the joint"
	}
	return kind
}

func closureHolds() Rule {
	const id = "closure-holds"
	return Rule{
		ID: id, Title: "the closure holds the lid down on its pads",
		Limit: "the force of the closure, N; warn when the stiffest pads meet the weakest closure", Unit: Newton,
		Source: "balance of forces",
		Key:    "closure.kind",
		Run: func(j *Job) []Finding {
			c := j.Dims.Closure
			weak, strong := c.Holds, c.Pads
			if r, ok := j.Dims.Row("closure.holds"); ok {
				weak = r.Least
			}
			if r, ok := j.Dims.Row("force.pads"); ok {
				strong = r.Most
			}
			const other = "a closure.kind that holds more (closure.holds if you measured yours)"
			// A pad's area is cut to its force: another compression or sponge moves its spread only.
			fix, spread := "use "+other, "load a piece of the sponge and give lid_liner.test, take a thicker lid_liner.thickness, or "+other
			if j.Kit.LidLiner.Pads == params.PadsFull {
				fix = "lid_liner.pads: auto presses on the items alone; or use less lid_liner.compression, a softer lid_liner.material, or " + other
				spread = fix
			}
			if f := most(Stop, Newton, "pads against the "+closureName(c.Kind), c.Pads, j.limit(id, c.Holds), fix); f != nil {
				return f
			}
			return most(Warn, Newton, "stiffest pads against the weakest "+closureName(c.Kind), strong, j.limit(id, weak), spread)
		},
	}
}
