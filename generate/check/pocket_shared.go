package check

import "fmt"

func pocketShared() Rule {
	const id = "pocket-shared"
	return Rule{
		ID: id, Title: "each item has a pocket of its own",
		Limit: "1 item in a pocket; note where pocket.spacing is 0, which asks for no rib", Unit: Shared,
		Source: "geometry: without a rib at the rim the sheet forms one pocket",
		Key:    "items[].at",
		Run: func(j *Job) []Finding {
			limit := j.limit(id, 1)
			severity := pick(j.Kit.Pocket.Spacing > 0, Warn, Note)
			var out []Finding
			for _, names := range j.Layout.Shared {
				out = append(out, most(severity, Shared, "pocket of "+List(names), float64(len(names)), limit,
					fmt.Sprintf("no rib holds them apart and they may touch: move them apart (items[].at) until there is one; if they are to share a pocket, say so: limits: {%s: %d}", id, len(names)))...)
			}
			return out
		},
	}
}
