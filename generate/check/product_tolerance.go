package check

func productTolerance() Rule {
	const id = "product-tolerance"
	return Rule{
		ID: id, Title: "the product's own tolerance leaves the liner something to squeeze",
		Limit: "75 % of the squeeze as drawn", Unit: Share,
		Source: ownRule,
		Key:    "tolerance.product",
		Run: func(j *Job) []Finding {
			squeeze := j.Kit.Liner.Thickness * j.Kit.Liner.Compression
			tol := j.Kit.Tolerance.Product
			limit := j.limit(id, 0.75)
			return most(Warn, Share, "product against a squeeze of "+MM.text(squeeze), tol/squeeze, limit,
				"measure several products and give a smaller tolerance.product, or use a liner.thickness of "+
					MM.text(tol/limit/j.Kit.Liner.Compression)+" or more at this compression")
		},
	}
}
