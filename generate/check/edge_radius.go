package check

func edgeRadius() Rule {
	const id = "edge-radius"
	return Rule{
		ID: id, Title: "the edge at a pocket's floor is round enough for the gauge",
		Limit: "the radius factor in the sheet's row times the gauge, mm", Unit: MM,
		Source: "1 x the gauge: shop guide; 2 x for PETG: sheet supplier's FAQ; row of the sheet table",
		Key:    "liner.thickness",
		Run: func(j *Job) []Finding {
			limit := j.limit(id, j.Sheet.RadiusFactor*j.Kit.Sheet.Gauge)
			if j.Layout.FloorEdgeRadius >= limit-measured {
				return nil
			}
			return least(Warn, MM, "floor edge of a pocket", j.Layout.FloorEdgeRadius, limit,
				"a sharp edge forms thin: use a thinner sheet.gauge, a thicker liner.thickness (it rounds the pocket), or items with rounder edges")
		},
	}
}
