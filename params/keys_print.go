package params

// speedRows are the speeds of a print, for its time. The defaults suit a 0.4
// nozzle at 0.3 mm layers, 5 to 11 mm³/s of filament; common practice, no source.
func speedRows(k *Kit) []row {
	s := &k.Printer.Speed
	of := func(to *float64) number { return number{to, speed, 1, 2000} }
	return []row{
		{"outer", of(&s.Outer), "40", false, "along the outermost wall"},
		{"inner", of(&s.Inner), "60", false, "along the other walls"},
		{"full", of(&s.Full), "60", false, "of infill without gaps"},
		{"top", of(&s.Top), "40", false, "of the layer that is seen"},
		{"infill", of(&s.Infill), "80", false, "of infill with gaps"},
		{"bridge", of(&s.Bridge), "30", false, "over air"},
		{"first", of(&s.First), "25", false, "of the first layer, at most"},
		{"travel", of(&s.Travel), "150", false, "without printing"},
	}
}

// batchRows are what a batch costs. No price has a source: they are places to
// put one's own.
func batchRows(k *Kit) []row {
	b := &k.Batch
	price := func(to *float64) number { return number{to, ratio, 0, 1e6} }
	return []row{
		{"count", whole{&b.Count, 1, 100000}, "10", false, "kits in the batch"},
		{"currency", text{to: &b.Currency, ok: currencyFault, longest: 8}, "EUR", false, "what prices are in; it is only printed"},
		{"filament", price(&b.Filament), "22", false, "price of a kilogram of filament; an example, put your own"},
		{"sheet", price(&b.Sheet), "18", false, "price of a square metre of sheet; an example, put your own"},
		{"liner", price(&b.Liner), "60", false, "price of a square metre of felt; an example, put your own"},
		{"lid_liner", price(&b.LidLiner), "30", false, "price of a square metre of sponge; an example, put your own"},
		{"cement", price(&b.Cement), "25", false, "price of a litre of cement; an example, put your own"},
		{"machine", price(&b.Machine), "0.5", false, "price of an hour of printing, power and wear; an example, put your own"},
		{"labour", price(&b.Labour), "25", false, "price of an hour of work; an example, put your own"},
		{"setup", number{&b.Setup, duration, 0, 1000}, "2 h", false, "work once for the batch: printing the tools, the first article"},
		{"each", number{&b.Each, duration, 0, 1000}, "30 min", false, "work on each kit: forming, trimming, lining, packing"},
		{"spoiled", number{&b.Spoiled, share, 0, 0.9}, "10 %", false, "share of sheet, felt and sponge that goes wrong"},
	}
}

func currencyFault(s string) complaint {
	if c := nameFault(s); c.what != "" {
		return complaint{quote(s) + " is no currency", "write its code or sign, such as EUR or USD"}
	}
	return complaint{}
}
