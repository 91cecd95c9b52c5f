package check

import (
	"fmt"
	"math"
)

// leastOverlap is what two items that are drawn touching may reach into each
// other, mm: the product tolerance of a careful drawing; own choice.
const leastOverlap = 0.5

// gives is how far two items in one pocket can be pressed apart, mm: the liner
// beyond each from the compression asked for to the most that it works at.
func (j *Job) gives() float64 {
	return 2 * j.Kit.Liner.Thickness * max(j.Liner.Most-j.Kit.Liner.Compression, 0)
}

func itemsOverlap() Rule {
	const id = "items-overlap"
	return Rule{
		ID: id, Title: "no two items stand in the same place",
		Limit: "how far one reaches into the other, 0.5 mm; stop where it is more by what their liners can give, 2 tf (most - c)", Unit: MM,
		Source: "geometry: two things cannot be where one is",
		Key:    "items[].at",
		Run: func(j *Job) []Finding {
			limit := j.limit(id, leastOverlap)
			var all []Finding
			for _, o := range j.Layout.Overlaps {
				far := !(o.Depth <= limit+j.gives())
				all = append(all, most(pick(far, Stop, Warn), MM, o.A+" and "+o.B+" reach into each other", o.Depth, limit,
					pick(far, "neither can be put in while the other is there", "they press each other into their liners")+
						fmt.Sprintf(": move them apart (items[].at); only if the two are one thing, described by two shapes, say so: limits: {%s: %.0f}", id, math.Ceil(o.Depth)))...)
			}
			return all
		},
	}
}
