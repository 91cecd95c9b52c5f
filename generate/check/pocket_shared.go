package check

import "strconv"

func pocketShared() Rule {
	return Rule{
		ID: "pocket-shared", Title: "each item has a pocket of its own",
		Limit:  "none: items whose pockets run into each other are named",
		Source: "geometry: without a rib at the rim the sheet forms one pocket",
		Key:    "items[].at",
		Run: func(j *Job) []Finding {
			var out []Finding
			for _, names := range j.Layout.Shared {
				out = append(out, told(Note, "pocket of "+List(names), strconv.Itoa(len(names))+" items",
					"move them apart (items[].at) if there should be a rib between them; leave them so if they are one thing or may touch"))
			}
			return out
		},
	}
}
