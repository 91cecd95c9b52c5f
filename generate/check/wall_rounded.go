package check

import (
	"fmt"
	"math"
)

func wallRounded() Rule {
	const id = "wall-rounded"
	return Rule{
		ID: id, Title: "walls are whole extrusions, so that no gap is left inside",
		Limit: "0.01 mm off what was asked", Unit: MM,
		Source: "walls of n extrusions: common practice of slicing programs",
		Key:    "shell.wall",
		Run: func(j *Job) []Finding {
			asked, made := j.Kit.Shell.Wall, j.Dims.Lid.Wall
			out := most(Note, MM, "neck and skirt of the lid", math.Abs(made-asked), j.limit(id, 0.01),
				"nothing to do, the wall is made so; shell.wall: "+MM.text(made)+" agrees with it")
			for i := range out {
				out[i].Value, out[i].LimitText = MM.texts(made, asked)
				if r, ok := j.Dims.Row("wall.count"); ok {
					out[i].Value += fmt.Sprintf(", %.0f extrusions", r.Nominal)
				}
				out[i].LimitText = "asked: " + out[i].LimitText
			}
			return out
		},
	}
}
