package export

import (
	"encoding/json"
	"io"

	"buckwright/generate/geom"
)

// KitJSON is the summary of a kit, kit.json: everything another program needs
// to put the printed parts together and measure the gaps. The order of the
// fields is the order in the file.
type KitJSON struct {
	Kit      string        `json:"kit"`
	Tool     ToolJSON      `json:"tool"`
	Inputs   string        `json:"inputs_sha256"` // hex, over the kit file and every file it names
	Units    UnitsJSON     `json:"units"`
	Parts    []PartJSON    `json:"parts"`
	Plates   []PlateJSON   `json:"plates"`
	Screws   []ScrewJSON   `json:"screws,omitempty"` // that hold the buck on the platen
	Pictures []string      `json:"pictures"`         // slash paths from the folder of kit.json
	Flats    []FlatJSON    `json:"flats"`
	Nests    []NestJSON    `json:"nests"`
	Fits     []FitJSON     `json:"fits"`
	Findings []FindingJSON `json:"findings"`
	Estimate *EstimateJSON `json:"estimate,omitempty"` // when every part was made
	Forming  *FormingJSON  `json:"forming,omitempty"`
}

// ToolJSON names the program that made the kit.
type ToolJSON struct {
	Name    string `json:"name"`
	Version string `json:"version"`
}

// UnitsJSON says what the numbers of the file mean.
type UnitsJSON struct {
	Length string `json:"length"`
	Mass   string `json:"mass"`
	Angle  string `json:"angle"`
	Force  string `json:"force"`
	Press  string `json:"pressure"`
}

// Units are those of every kit.json.
func Units() UnitsJSON { return UnitsJSON{"mm", "g", "degree", "N", "kPa"} }

// PartJSON is one printed or reference part.
type PartJSON struct {
	Name      string      `json:"name"`
	Files     []string    `json:"files"` // slash paths from the folder of kit.json
	Printed   bool        `json:"printed"`
	Quality   string      `json:"quality"` // draft, normal or fine: how close the mesh comes to the solid
	Volume    float64     `json:"volume_mm3"`
	Area      float64     `json:"area_mm2"`
	Bbox      BoxJSON     `json:"bbox"` // as in the part's own files
	Triangles int         `json:"triangles"`
	Mass      float64     `json:"mass_g"`
	Time      float64     `json:"time_s,omitempty"`            // of printing it
	Bridge    float64     `json:"longest_bridge_mm,omitempty"` // between what carries it
	FreeEdge  float64     `json:"free_edge_mm,omitempty"`      // how far a ceiling stands out that is held at one end only
	ToKit     [16]float64 `json:"to_kit"`                      // 4 x 4 row-major, from the file's frame to the kit's, scale included
}

// BoxJSON is an axis-aligned box.
type BoxJSON struct {
	Min [3]float64 `json:"min"`
	Max [3]float64 `json:"max"`
}

// Bbox is b as the file has it.
func Bbox(b geom.Box) BoxJSON {
	return BoxJSON{[3]float64{b.Min.X, b.Min.Y, b.Min.Z}, [3]float64{b.Max.X, b.Max.Y, b.Max.Z}}
}

// ScrewJSON is one screw through the platen into the buck, seen from above.
type ScrewJSON struct {
	Thread     string     `json:"thread"`
	At         [2]float64 `json:"at"`          // in the kit's plan
	FromMiddle [2]float64 `json:"from_middle"` // of the buck as it is printed: where the platen is drilled
}

// PlateJSON is one print bed and the parts on it.
type PlateJSON struct {
	File  string   `json:"file"`
	Parts []string `json:"parts"`
}

// FlatJSON is one flat piece to cut. Size is that of the cut, the kerf in it;
// Area is of the finished piece.
type FlatJSON struct {
	Name      string      `json:"name"`
	Title     string      `json:"title"`
	Files     []string    `json:"files"` // empty when it is refused
	Material  string      `json:"material"`
	Thickness float64     `json:"thickness_mm,omitempty"`
	Count     int         `json:"count"`
	Template  bool        `json:"template,omitempty"` // followed by hand, not part of the kit
	Cutter    string      `json:"cutter"`
	Kerf      float64     `json:"kerf_mm"`
	Area      float64     `json:"area_mm2"`
	Size      [2]float64  `json:"size_mm"`
	Strain    *StrainJSON `json:"strain,omitempty"`
	Notes     []string    `json:"notes,omitempty"`
	Refused   string      `json:"refused,omitempty"` // why no file is written
}

// StrainJSON is what laying a flat piece in asks of it, as shares.
type StrainJSON struct {
	Stretch float64 `json:"stretch"`
	Gather  float64 `json:"gather"`
	Where   string  `json:"where"`
}

// NestJSON is one piece of stock and the flats laid on it.
type NestJSON struct {
	Name     string     `json:"name"`
	Files    []string   `json:"files"`
	Material string     `json:"material"`
	Stock    [2]float64 `json:"stock_mm"`
	Used     float64    `json:"used"`    // share of its area
	Take     [2]float64 `json:"take_mm"` // the corner of it that is enough
	Flats    []string   `json:"flats"`
}

// FitJSON is one derived size with its spread.
type FitJSON struct {
	ID      string  `json:"id"`
	Where   string  `json:"where,omitempty"`
	Unit    string  `json:"unit"`
	Nominal float64 `json:"nominal"`
	Least   float64 `json:"least"`
	Most    float64 `json:"most"`
	Formula string  `json:"formula"`
	Source  string  `json:"source"`
}

// EstimateJSON is what a batch takes and costs.
type EstimateJSON struct {
	Count    int       `json:"count"` // kits in the batch
	Currency string    `json:"currency"`
	Rows     []CostRow `json:"rows"`
	Setup    float64   `json:"setup_cost"` // once for the batch
	Each     float64   `json:"each_cost"`  // for each kit, set-up apart
	Unit     float64   `json:"unit_cost"`  // each and its share of the set-up
	Batch    float64   `json:"batch_cost"`
	Without  string    `json:"not_included"`
}

// CostRow is one thing that is used up: Cost = Quantity / Per x Price.
type CostRow struct {
	What     string  `json:"what"`
	Once     bool    `json:"once"`     // for the batch; else for each kit
	Quantity float64 `json:"quantity"` // in Unit
	Unit     string  `json:"unit"`
	Price    float64 `json:"price"`      // of PriceUnit
	PriceOf  string  `json:"price_unit"` // kg, m², l, h
	Cost     float64 `json:"cost"`
	Example  bool    `json:"example_price"` // the kit does not give the price
	Source   string  `json:"source"`        // how the quantity came about
}

// FindingJSON is one place where the kit passes a rule's limit.
type FindingJSON struct {
	ID       string `json:"id"`
	Severity string `json:"severity"`
	Where    string `json:"where"`
	Value    string `json:"value"`
	Limit    string `json:"limit"`
	Source   string `json:"source"`
	Fix      string `json:"fix"`
}

// FormingJSON is what the sheet is predicted to do.
type FormingJSON struct {
	Sheet   string         `json:"sheet"`
	Gauge   float64        `json:"gauge_mm"`
	Results []QuantityJSON `json:"results"`
}

// QuantityJSON is one predicted number and where it holds.
type QuantityJSON struct {
	Name   string      `json:"name"`
	Where  string      `json:"where,omitempty"`
	At     *[3]float64 `json:"at,omitempty"` // in the kit's frame
	Value  float64     `json:"value"`
	Unit   string      `json:"unit"`
	Source string      `json:"source,omitempty"`
}

// WriteKitJSON writes k indented, with empty lists as [] and < > & as they are.
// It fails on a number that JSON cannot hold (NaN, infinity).
func WriteKitJSON(w io.Writer, k KitJSON) error {
	k.Parts = orEmpty(k.Parts)
	k.Plates = orEmpty(k.Plates)
	k.Pictures = orEmpty(k.Pictures)
	k.Flats = orEmpty(k.Flats)
	k.Nests = orEmpty(k.Nests)
	k.Fits = orEmpty(k.Fits)
	k.Findings = orEmpty(k.Findings)
	if k.Forming != nil {
		f := *k.Forming
		f.Results = orEmpty(f.Results)
		k.Forming = &f
	}
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(k)
}

func orEmpty[T any](s []T) []T {
	if s == nil {
		return []T{}
	}
	return s
}
