package check

const bridgeFix = "slow the printer's bridges down and cool them, or put support under this one; trim what hangs before assembly"

func bridge() Rule {
	const id = "bridge"
	return Rule{
		ID: id, Title: "no ceiling hangs over more than a printer bridges",
		Limit: "10 mm between what carries it", Unit: MM,
		Source: "desktop printers bridge 5 to 50 mm; 10 without sagging: " + cp,
		Key:    "printer.layer",
		Run: func(j *Job) []Finding {
			limit := j.limit(id, 10)
			var out []Finding
			for _, p := range j.Parts {
				out = append(out, most(Warn, MM, p.Name, p.LongestBridge, limit, bridgeFix)...)
			}
			return out
		},
	}
}
