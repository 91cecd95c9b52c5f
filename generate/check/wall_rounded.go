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
			asked, got := j.Kit.Shell.Wall, j.Dims.Lid.Wall
			return most(Note, MM, fmt.Sprintf("neck and lid wall made %s, asked for %s: off by", MM.text(got), MM.text(asked)),
				math.Abs(got-asked), j.limit(id, 0.01), "nothing to do, the walls are made so; write shell.wall: "+MM.text(got)+" to agree")
		},
	}
}
