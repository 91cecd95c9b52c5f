package generate

import (
	"fmt"

	"buckwright/generate/export"
)

// costSection says what a batch takes and costs.
func (r *Result) costSection() export.Section {
	e := r.batch()
	if e == nil {
		return export.Section{}
	}
	t := export.Table{Caption: fmt.Sprintf("A batch of %d", e.Count), Heads: []export.Head{
		{Text: "what"}, {Text: "how much", Kind: export.Number}, {Text: "price, " + e.Currency, Kind: export.Number}, {Text: "cost, " + e.Currency, Kind: export.Number},
	}}
	total := func(what string, v float64) { t.Rows = append(t.Rows, []string{what, "", "", fixed(2, v)}) }
	examples := false
	for i, row := range e.Rows {
		if i > 0 && !row.Once && e.Rows[i-1].Once {
			total("once for the batch, together", e.Setup)
		}
		price := fixed(2, row.Price) + " a " + row.PriceOf
		if row.Example {
			price, examples = price+" *", true
		}
		digits := 0
		if row.Unit == "h" {
			digits = 1
		}
		t.Rows = append(t.Rows, []string{row.What, fixed(digits, row.Quantity) + " " + row.Unit, price, fixed(2, row.Cost)})
	}
	total("each kit, together", e.Each)
	total(fmt.Sprintf("one kit of %d, its share of the setting up included", e.Count), e.Unit)
	total("the batch", e.Batch)
	lead := []string{"Felt, sponge and sheet include what cutting wastes and what is spoiled. Not in it: " + e.Without + "."}
	if examples {
		lead = append(lead, "* an example price: put your own under batch in the kit file.")
	}
	return export.Section{ID: "cost", Title: "What it costs", Block: export.Block{Lead: lead, Tables: []export.Table{t}}}
}
