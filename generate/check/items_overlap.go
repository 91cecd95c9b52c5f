package check

// leastOverlap is what two items that are drawn touching may reach into each
// other, mm: the product tolerance of a careful drawing; own choice.
const leastOverlap = 0.5

func itemsOverlap() Rule {
	const id = "items-overlap"
	return Rule{
		ID: id, Title: "no two items stand in the same place",
		Limit: "how far one reaches into the other, 0.5 mm", Unit: MM,
		Source: "geometry: two things cannot be where one is",
		Key:    "items[].at",
		Run: func(j *Job) []Finding {
			limit := j.limit(id, leastOverlap)
			var all []Finding
			for _, o := range j.Layout.Overlaps {
				all = append(all, most(Warn, MM, o.A+" and "+o.B+" reach into each other", o.Depth, limit,
					"move them apart (items[].at); leave them so only if the two are one thing, described by two shapes")...)
			}
			return all
		},
	}
}
