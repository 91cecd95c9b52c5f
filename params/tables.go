package params

import (
	"fmt"
	"slices"
)

// Tables hold the rows that a kit names: materials and machines. Each list is
// in the order of its file and its names are unique. templates.Tables fills it;
// Kit.Resolve lays the kit's own overrides over a copy.
type Tables struct {
	Sheets         []Sheet
	Liners         []Liner
	Formers        []Former
	Printers       []Printer
	PrintMaterials []PrintMaterial
}

// Sheet is one thermoplastic sheet. Temperatures are °C and of the sheet, not
// of the heater.
type Sheet struct {
	Name    string  `json:"name"`
	Title   string  `json:"title"`
	Density float64 `json:"density"` // kg/m³
	Cp      Span    `json:"cp"`      // J/(kg K): least is cold, most the mean up to forming
	K       Span    `json:"k"`       // W/(m K)

	Set    float64 `json:"set"`    // below it the part may leave the mould
	Low    float64 `json:"low"`    // lower processing limit
	Orient float64 `json:"orient"` // orienting temperature
	Core   float64 `json:"core"`   // normal forming temperature of the core
	Up     float64 `json:"up"`     // upper limit
	Mould  Span    `json:"mould"`  // temperature of the mould
	Tg     float64 `json:"tg"`     // glass transition

	Shrink       Span    `json:"shrink"`                  // share, over all sources
	ShrinkMale   *Span   `json:"shrink_male,omitempty"`   // share, where a source tells them apart
	ShrinkFemale *Span   `json:"shrink_female,omitempty"` // share, likewise
	Melting      float64 `json:"melting,omitempty"`       // J/g, 0 for a glassy sheet
	Melts        *Span   `json:"melts,omitempty"`         // °C between which it melts, where Melting is given
	Mu           Span    `json:"mu"`                      // kPa, shear modulus of the hot sheet
	Law          *Law    `json:"law,omitempty"`           // measured elastic law, nil: neo-Hookean with a modulus out of Mu
	Gauges       Span    `json:"gauges"`                  // mm, as sold

	Crystalline  bool    `json:"crystalline"`
	Chlorinated  bool    `json:"chlorinated"`         // gives hydrogen chloride when burnt: never to a laser
	Clear        bool    `json:"clear,omitempty"`     // sold clear: what is printed on its back shows
	RadiusFactor float64 `json:"radius_factor"`       // least inside radius / gauge
	MaleDraft    float64 `json:"male_draft"`          // degrees, least on a male wall
	FemaleDraft  float64 `json:"female_draft"`        // degrees, least in a female cavity
	LeastVacuum  float64 `json:"vacuum,omitempty"`    // kPa below atmosphere, 0 when no source gives one
	DryFirst     bool    `json:"dry_first,omitempty"` // bubbles unless dried before forming
	Note         string  `json:"note,omitempty"`      // what else the maker should know
	Source       string  `json:"source"`
}

// The elastic laws of a hot sheet.
const (
	NeoHookean   LawKind = "neo-hookean"   // one modulus
	MooneyRivlin LawKind = "mooney-rivlin" // C1 and C2
	Ogden        LawKind = "ogden"         // moduli, each with an exponent
)

// LawKind names an elastic law.
type LawKind string

// Law is the elastic law of a hot sheet, as measured.
type Law struct {
	Kind      LawKind   `json:"kind"`
	Moduli    []float64 `json:"moduli"`    // kPa
	Exponents []float64 `json:"exponents"` // Ogden's
}

// The kinds of liner.
const (
	Felt   LinerKind = "felt"   // pressure P0 ((1-e)^-3 - 1), van Wyk 1946
	Sponge LinerKind = "sponge" // through its stress at 25 % deflection, ASTM D1056
)

// LinerKind tells which law of compression a liner follows.
type LinerKind string

// Liner is one felt or sponge.
type Liner struct {
	Name         string    `json:"name"`
	Title        string    `json:"title"`
	Kind         LinerKind `json:"kind"`
	Density      float64   `json:"density"`       // kg/m³
	P0           float64   `json:"p0,omitempty"`  // kPa, felt only
	Stress25     Span      `json:"stress25"`      // kPa at 25 % deflection, sponge only
	Friction     float64   `json:"friction"`      // against the product
	ThicknessTol float64   `json:"thickness_tol"` // share of the thickness, one side
	Set          float64   `json:"set"`           // share of the compression that stays
	Most         float64   `json:"most"`          // largest working compression, share
	AreaStrain   float64   `json:"area_strain"`   // share it stretches into a hollow without a relief cut
	OpenCell     bool      `json:"open_cell,omitempty"`
	Chlorinated  bool      `json:"chlorinated"` // never to a laser
	Source       string    `json:"source"`
}

// Former is one vacuum former.
type Former struct {
	Name     string     `json:"name"`
	Title    string     `json:"title"`
	Area     [2]float64 `json:"area"`   // mm, free sheet inside the clamp
	Clamp    float64    `json:"clamp"`  // mm, width gripped on every edge
	Depth    float64    `json:"depth"`  // mm, tallest tool
	Vacuum   float64    `json:"vacuum"` // kPa below atmosphere
	Pitch    float64    `json:"pitch"`  // mm, of the platen's holes
	Hole     float64    `json:"hole"`   // mm, their diameter
	Border   float64    `json:"border"` // mm, from the area's edge to the first hole
	Tank     float64    `json:"tank"`   // litres, 0: pump only
	Pump     float64    `json:"pump"`   // litres a minute, 0: not given
	Heater   float64    `json:"heater"` // °C
	TwoSided bool       `json:"two_sided"`
	Source   string     `json:"source"`
}

// Printer is one filament printer.
type Printer struct {
	Name      string     `json:"name"`
	Title     string     `json:"title"`
	Bed       [3]float64 `json:"bed"`        // mm, x, y, z that it can fill
	Nozzle    float64    `json:"nozzle"`     // mm
	Layer     float64    `json:"layer"`      // mm
	LeastHole float64    `json:"least_hole"` // mm, smallest upright hole it prints open
	Foot      float64    `json:"foot"`       // mm, chamfer that removes the elephant's foot
	Source    string     `json:"source"`
}

// PrintMaterial is one filament, as printed.
type PrintMaterial struct {
	Name        string  `json:"name"`
	Title       string  `json:"title"`
	Density     float64 `json:"density"`      // kg/m³
	Modulus     float64 `json:"modulus"`      // MPa, in the layer's plane
	SafeStrain  float64 `json:"safe_strain"`  // share, for a snap that opens often
	HDT         Span    `json:"hdt"`          // °C, least at 1.8 MPa, most at 0.45 MPa
	Tg          float64 `json:"tg"`           // °C
	Cp          Span    `json:"cp"`           // J/(kg K)
	K           Span    `json:"k"`            // W/(m K)
	Friction    float64 `json:"friction"`     // on itself
	ShrinkScale Span    `json:"shrink_scale"` // share that a print comes out short
	Source      string  `json:"source"`
}

// Softens is the temperature, °C, at which a printed skin begins to give: its
// glass transition, or what a bar stands at 1.8 MPa if that is higher, as it is
// for a crystalline polymer.
func (m PrintMaterial) Softens() float64 { return max(m.Tg, m.HDT.Least) }

// Mid is the middle of the span.
func (s Span) Mid() float64 { return (s.Least + s.Most) / 2 }

// Sheet finds a row by name; the error says what the nearest name is.
func (t *Tables) Sheet(name string) (Sheet, error) {
	return find("sheet", t.Sheets, name, func(s Sheet) string { return s.Name })
}

// Liner finds a row by name; the error says what the nearest name is.
func (t *Tables) Liner(name string) (Liner, error) {
	return find("liner", t.Liners, name, func(l Liner) string { return l.Name })
}

// Former finds a row by name; the error says what the nearest name is.
func (t *Tables) Former(name string) (Former, error) {
	return find("former", t.Formers, name, func(f Former) string { return f.Name })
}

// Printer finds a row by name; the error says what the nearest name is.
func (t *Tables) Printer(name string) (Printer, error) {
	return find("printer", t.Printers, name, func(p Printer) string { return p.Name })
}

// PrintMaterial finds a row by name; the error says what the nearest name is.
func (t *Tables) PrintMaterial(name string) (PrintMaterial, error) {
	return find("print material", t.PrintMaterials, name, func(m PrintMaterial) string { return m.Name })
}

// UnknownRowError says that a table has no row of that name.
type UnknownRowError struct {
	Table string
	Name  string
	Near  string   // the name that was probably meant, or ""
	Names []string // all there are, in table order
}

func (e *UnknownRowError) Error() string {
	msg := fmt.Sprintf("no %s is called %q", e.Table, e.Name)
	if e.Near != "" {
		msg += fmt.Sprintf("; did you mean %s?", e.Near)
	}
	return msg
}

func find[T any](table string, rows []T, name string, nameOf func(T) string) (T, error) {
	i := slices.IndexFunc(rows, func(r T) bool { return nameOf(r) == name })
	if i >= 0 {
		return rows[i], nil
	}
	names := make([]string, len(rows))
	for i, r := range rows {
		names[i] = nameOf(r)
	}
	var none T
	return none, NoRow(table, name, names)
}

// NoRow makes the error for a name that is none of names.
func NoRow(table, name string, names []string) *UnknownRowError {
	return &UnknownRowError{table, name, nearest(name, names), names}
}
