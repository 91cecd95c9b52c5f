package generate

import (
	"slices"

	"buckwright/generate/estimate"
	"buckwright/generate/export"
	"buckwright/generate/geom"
)

// What cutting and spreading waste, beside what the kit calls spoiled.
const (
	cutOut = 0.7  // share of felt and sponge that ends up in the case, where flats are not laid on stock; common practice, no source
	solids = 0.20 // share of contact cement that stays when it has dried; from memory, confirm on its sheet
)

// batch is what a batch takes and costs; nil unless every part was made.
func (r *Result) batch() *export.EstimateJSON {
	for _, name := range []string{"buck", "press-tool", "base", "lid"} {
		if !slices.ContainsFunc(r.Parts, func(p Part) bool { return p.Name == name }) {
			return nil
		}
	}
	b := r.Kit.Batch
	e := &export.EstimateJSON{Count: b.Count, Currency: b.Currency, Rows: r.costRows(),
		Without: "overheads, tax, packing and profit"}
	for i := range e.Rows {
		row := &e.Rows[i]
		row.Cost = row.Quantity / unitsIn(row.Unit, row.PriceOf) * row.Price
		if row.Once {
			e.Setup += row.Cost
		} else {
			e.Each += row.Cost
		}
	}
	e.Unit = e.Each + e.Setup/float64(e.Count)
	e.Batch = e.Each*float64(e.Count) + e.Setup
	return e
}

// unitsIn is how many of a small unit make the one that is paid for.
func unitsIn(unit, paid string) float64 {
	switch unit + " " + paid {
	case "g kg", "ml l":
		return 1000
	case "cm² m²":
		return 1e4
	case "min h":
		return 60
	}
	return 1
}

// costRows is what is used up: once for the tools, then for each kit.
func (r *Result) costRows() []export.CostRow {
	b := r.Kit.Batch
	each, once := r.printed()
	felt, feltBought := r.flatArea("felt")
	_, spongeBought := r.flatArea("sponge")
	blank, _ := r.flatArea("sheet")
	wet := r.Kit.Liner.Cement / solids
	good := 1 - b.Spoiled
	var rows []export.CostRow
	add := func(once bool, what string, quantity float64, unit, key string, price float64, of, source string) {
		if quantity > 0 {
			rows = append(rows, export.CostRow{Once: once, What: what, Quantity: quantity, Unit: unit, Price: price, PriceOf: of,
				Example: !r.Kit.Given("batch." + key), Source: source})
		}
	}
	const layers = "layers of the parts, as a slicing program lays them"
	add(true, "filament, tools", once.Grams, "g", "filament", b.Filament, "kg", layers)
	add(true, "printing, tools", once.Seconds/3600, "h", "machine", b.Machine, "h", layers)
	add(true, "work, setting up", b.Setup, "h", "labour", b.Labour, "h", "batch.setup")
	add(false, "filament, base and lid", each.Grams, "g", "filament", b.Filament, "kg", layers)
	add(false, "printing, base and lid", each.Seconds/3600, "h", "machine", b.Machine, "h", layers)
	const laid = "flats of some kits laid together on their stock, with what is cut off between, and what is spoiled"
	add(false, "sheet", blank/100/good, "cm²", "sheet", b.Sheet, "m²", "one blank, and what is spoiled")
	add(false, "felt", feltBought/100/good, "cm²", "liner", b.Liner, "m²", laid)
	add(false, "sponge", spongeBought/100/good, "cm²", "lid_liner", b.LidLiner, "m²", laid)
	add(false, "cement", felt*wet/1000/good, "ml", "cement", b.Cement, "l", "liner.cement over the felt, a fifth of it solids")
	add(false, "work", b.Each*60, "min", "labour", b.Labour, "h", "batch.each")
	return rows
}

// printed is what the prints take together: for each case, and once for its tools.
func (r *Result) printed() (each, once estimate.Print) {
	for _, p := range r.Parts {
		to := &each
		switch {
		case p.Reference:
			continue
		case forTooling(p.Name):
			to = &once
		}
		to.Grams += p.Print.Grams
		to.Seconds += p.Print.Seconds
	}
	return each, once
}

// laidTogether is how many flats of a batch, about, are laid on stock together to see
// what a kit takes: with more the rest between them hardly shrinks. This program's
// own choice.
const laidTogether = 40

// flatArea is the area of one kit's flats of a kind, mm², and what they take of
// their stock: the rectangle around what is laid on each piece, the kits of a batch
// laid together. A flat that is not laid out, as one larger than the stock, takes
// its share of waste.
func (r *Result) flatArea(kind string) (area, bought float64) {
	flats := 0
	for i := range r.Flats {
		if f := &r.Flats[i]; f.Material.Kind == kind {
			area += float64(f.Count) * f.Shape.Area()
			flats += f.Count
		}
	}
	kits := max(1, min(r.Kit.Batch.Count, laidTogether/max(flats, 1)))
	taken, rest := 0.0, float64(kits)*area // what is not laid out
	for _, n := range r.laid(kind, kits) {
		for _, l := range n.Flats {
			rest -= l.Flat.Shape.Area()
		}
		size := n.Take.Sub(geom.Vec2{X: 2*nestEdge - nestGap, Y: 2*nestEdge - nestGap})
		taken += min(size.X*size.Y, n.Stock.X*n.Stock.Y)
	}
	return area, (taken + max(rest, 0)/cutOut) / float64(kits)
}
