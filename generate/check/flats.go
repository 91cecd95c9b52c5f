package check

// FlatFact is one flat piece to cut.
type FlatFact struct {
	Name    string
	Size    [2]float64 // mm
	Stock   [2]float64 // of the piece it is cut from; zero where it is bought to size
	Upright bool       // the material's grain forbids a quarter turn
	Key     string     // the kit's key of that piece
	Strain  float64    // that laying it in asks of it, a share; 0 where it stays flat
	Refused string     // why no file is written for it
}

// over is by how much a flat is larger than its stock, mm, turned if that helps.
func (f FlatFact) over() float64 {
	as := func(x, y float64) float64 { return max(x-f.Stock[0], y-f.Stock[1]) }
	o := as(f.Size[0], f.Size[1])
	if !f.Upright {
		o = min(o, as(f.Size[1], f.Size[0]))
	}
	return o
}

func flatStock() Rule {
	return Rule{
		ID: "flat-stock", Title: "a flat must lie on the piece it is cut from",
		Limit: "0 mm larger", Source: ownRule, Key: "stock",
		Run: func(j *Job) []Finding {
			var out []Finding
			for _, f := range j.Flats {
				if f.Refused != "" || f.Stock == ([2]float64{}) {
					continue
				}
				for _, one := range most(Stop, MM, f.Name+", larger than its stock by", f.over(), 0, "a larger piece, or the flat in two with a seam where the outline is straight") {
					one.Key = f.Key
					out = append(out, one)
				}
			}
			return out
		},
	}
}

func flatRefused() Rule {
	return Rule{
		ID: "flat-refused", Title: "every flat needs a file to cut it by",
		Limit: "none refused", Source: "laser maker's support article for chlorinated materials; else " + ownRule, Key: "cutter",
		Run: func(j *Job) []Finding {
			var out []Finding
			for _, f := range j.Flats {
				if f.Refused != "" {
					out = append(out, told(Stop, f.Name, "not drawn", f.Refused))
				}
			}
			return out
		},
	}
}

// leastFlat is the least side, mm, of a piece that a hand can hold while it is
// cut and glued.
const leastFlat = 3.0

func flatSmall() Rule {
	return Rule{
		ID: "flat-small", Title: "a very small flat cannot be held, cut or glued",
		Limit: MM.text(leastFlat), Unit: MM, Source: cp, Key: "lid_liner",
		Run: func(j *Job) []Finding {
			var out []Finding
			for _, f := range j.Flats {
				if f.Refused == "" {
					out = append(out, least(Warn, MM, f.Name+", its smaller side", min(f.Size[0], f.Size[1]), j.limit("flat-small", leastFlat),
						"a softer or less compressed lid liner makes a pad larger; lid_liner.pads: full needs none")...)
				}
			}
			return out
		},
	}
}

func feltStrain() Rule {
	return Rule{
		ID: "felt-strain", Title: "felt that is strained too far lifts off or wrinkles",
		Limit: "the liner's area_strain; a warning at twice that", Unit: Share, Source: "row of the liner table", Key: "liner.material",
		Run: func(j *Job) []Finding {
			var out []Finding
			limit := j.limit("felt-strain", j.Liner.AreaStrain)
			for _, f := range j.Flats {
				out = append(out, most(pick(f.Strain > 2*limit, Warn, Note), Share, f.Name+", when it is laid in", f.Strain, limit,
					"steam it and work it in from the middle, snip it where it gathers, or take a felt that gives more; lay one pocket before cutting them all")...)
			}
			return out
		},
	}
}
