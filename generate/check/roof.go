package check

// strip is the bending stress, MPa, in a strip clamped along both edges, under
// pressure p, kPa; span and thick in mm. Source: Roark's Formulas for Stress
// and Strain, clamped beam under an even load: p L²/12 on t²/6.
func strip(p, span, thick float64) float64 {
	return p / 1000 * span * span / (2 * thick * thick)
}

const (
	atHot    = 1.8  // MPa of the cooler of the two tests of heat deflection, ISO 75 method A
	atHotter = 0.45 // of the hotter, method B
)

// roofs are the spans and thicknesses of what carries the air's pressure: the
// floor over a channel, the top over the infill's lines.
func roofs(j *Job) (where string, stress float64) {
	b := j.Dims.Buck
	where, stress = "floor over the air channels", strip(j.Kit.Former.Vacuum, b.Channel, b.Floor)
	if fill := j.Kit.Printer.Infill; fill > 0 && fill < 1 {
		apart := 2 * j.Dims.Print.Width / fill // of the lines of one of two directions
		if s := strip(j.Kit.Former.Vacuum, apart, skin(j)); s > stress {
			where, stress = "top of "+MM.text(skin(j))+" over infill lines "+MM.text(apart)+" apart", s
		}
	}
	return where, stress
}

// carries is the stress, MPa, at which a bar of the print material gives at
// the mean temperature of its skin under the sheet.
func carries(j *Job) float64 {
	if (contactTemp(j)+Room)/2 <= j.Print.HDT.Least {
		return atHot
	}
	return atHotter
}

func roof() Rule {
	const id = "roof"
	return Rule{
		ID: id, Title: "no thin roof of the buck caves in under the air's pressure",
		Limit: "1.8 MPa of bending, or 0.45 where the skin is warmer than the material's deflection temperature at 1.8", Unit: MPa,
		Source: "clamped strip: Roark, Formulas for Stress and Strain; heat deflection: ISO 75 and row of the print material table; solid top of 4 layers: common practice",
		Key:    "printer.infill",
		Run: func(j *Job) []Finding {
			where, stress := roofs(j)
			return most(Warn, MPa, where, stress, j.limit(id, carries(j)),
				"raise printer.infill, slice the buck with more solid layers on top, or raise buck.floor; a printer.material that deflects later carries more")
		},
	}
}
