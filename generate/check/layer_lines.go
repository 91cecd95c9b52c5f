package check

import "buckwright/params"

// shown is the face of the sheet that no felt covers and that is seen in the
// case, and its thickness.
func shown(j *Job) (string, float64) {
	if j.Kit.Liner.Wrap == params.WrapPockets {
		return "bare rim of " + j.Sheet.Title, j.Dims.Insert.Rim
	}
	return "", 0
}

func layerLines() Rule {
	const id = "layer-lines"
	return Rule{
		ID: id, Title: "the buck's layers do not show through a face without felt",
		Limit: "layers of 0.3 times the sheet's thickness there, mm; 0.1 mm under clear sheet", Unit: MM,
		Source: ownRule + "; that lines show through thin and through clear sheet: common practice",
		Key:    "printer.layer",
		Run: func(j *Job) []Finding {
			where, thick := shown(j)
			if where == "" {
				return nil
			}
			limit := j.limit(id, pick(j.Sheet.Clear, 0.1, 0.3*thick))
			return most(Note, MM, where+", layers of the buck", j.Dims.Print.Layer, limit,
				"sand and fill the buck's top, print it with a finer printer.layer, use a thicker sheet.gauge, or cover the rim (liner.wrap: rim)")
		},
	}
}
