// Package params reads the kit file: what the user types, with its defaults,
// and nothing derived from it. Lengths are millimetres, angles degrees, masses
// grams, pressures kilopascals, forces newtons, shares 0 to 1.
package params

// Pos is where a value stands in the kit file; the zero Pos means it is a default.
type Pos struct{ Line, Col int }

// Kit is one kit file, complete: Parse has filled every default that does not
// depend on other values. A field that may stay unset is a pointer.
type Kit struct {
	File  string // the path it was read from; mesh paths are relative to its folder
	Name  string // key `kit`
	Items []Item

	Tolerance struct{ Product float64 } // per face

	Liner struct {
		Material    string
		Thickness   float64
		Compression float64 // share of the free thickness, on the walls, item seated
		Wrap        Wrap
		Tolerance   *float64    // one side, mm; nil: the table's share
		Cement      float64     // film thickness
		Press       *float64    // kPa the cement wants; nil: 50
		Test        *WeightTest // replaces the table's constant
	}
	LidLiner struct {
		Material    string
		Thickness   float64
		Compression float64
		Pads        Pads
		Test        *WeightTest
	}
	Closure struct {
		Kind  Closure
		Holds *float64 // N; nil: computed (catch) or taken from the kind
	}
	Sheet struct {
		Material string
		Gauge    float64
		Shrink   *Span // share; nil: the table's
	}
	Former struct {
		Name     string // row of the table, "" when given in place
		Area     [2]float64
		Clamp    float64
		Depth    float64
		Vacuum   float64
		Platen   struct{ Pitch, Hole, Border float64 }
		Tank     float64 // litres, 0: pump only
		Pump     float64 // litres a minute, 0: not given
		Heater   float64 // °C
		TwoSided bool
	}
	Printer struct {
		Name      string
		File      string // the printer file that it was read from, "" for none
		Bed       [3]float64
		Nozzle    float64
		Layer     float64
		Infill    float64
		Material  string
		Tolerance *float64   // of one face, one side; nil: a quarter of ISO grade IT13
		Width     *float64   // extrusion width; nil: 1.125 x nozzle
		Offset    float64    // measured, of outer faces in the plane; more than 0: they come out too large
		Hole      float64    // measured, of holes; more than 0: they come out too large
		Foot      float64    // elephant's foot, chamfer that removes it
		Scale     [3]float64 // printed / drawn, 1 unless measured
		LeastHole float64    // smallest vertical hole it prints open

		Skin         int                                                                      // full layers that close tops and bottoms
		Speed        struct{ Outer, Inner, Full, Top, Infill, Bridge, First, Travel float64 } // mm/s
		Acceleration float64                                                                  // mm/s²
	}
	Insert struct {
		Margin, CornerRadius, RimRadius float64
		Draft                           float64
	}
	Pocket struct {
		Draft, MouthRadius, Spacing float64
	}
	Buck struct {
		Floor float64
		Run   float64 // sheets formed one after another
		Vent  struct {
			Diameter *float64 // nil: auto
			Land     float64
			Bore     float64
			Pitch    float64
			Pin      [][2]float64 // places that must have one
			Forbid   [][3]float64 // x, y, radius where none may be
		}
		Screws *Screws // nil: none
	}
	Press struct {
		Nest Nest
		Grip Grip
	}
	Shell struct {
		Wall, Floor, Neck float64
		Slip              struct {
			Least float64
			Stack Stack
		}
		Label Label
	}
	Batch struct {
		Count    int
		Currency string
		// Prices, in the currency: of a kilogram, a square metre, a litre, an hour.
		Filament, Sheet, Liner, LidLiner, Cement, Machine, Labour float64
		Setup, Each                                               float64 // hours of work, once and for each kit
		Spoiled                                                   float64 // share of sheet, felt and sponge that goes wrong
	}
	Cutter struct {
		Kind  Cutter
		Kerf  *float64    // width that the cutter takes away; nil: the kind's
		Knife []StockKind // cut by knife all the same
	}
	Stock struct{ Felt, Sponge, Label, Paper [2]float64 } // sheets as bought
	Label struct {
		Material LabelMaterial
		Gap      float64     // to the groove, each side
		Window   *[2]float64 // cut-out in its middle; nil: none
	}
	Limits map[string]float64 // rule id -> limit that replaces the rule's own

	Where map[string]Pos // dotted key (items[0].depth) -> place of its value in the file

	lines     []string   // of the file, for Problem
	overrides []override // of the tables' rows, for Resolve
	printer   printerFile
}

// Item is one thing to be packed.
type Item struct {
	Name  string
	Shape Shape
	At    [2]float64 // middle of its plan
	Turn  float64    // about the pull axis, counterclockwise seen from above
	Depth float64    // how much of it sits below the rim
	Mass  float64
	Notch []Notch
}

// Notch is one finger notch at a side of an item, before the item is turned.
type Notch struct {
	Side  Side
	Width float64  // default 30
	Out   float64  // beyond the item's widest line, default 12
	Depth *float64 // below the rim; nil: item depth - 3
}

// Shape holds exactly one shape; the others are nil.
type Shape struct {
	Box       *Box
	Cylinder  *Cylinder
	Capsule   *Capsule
	Ellipsoid *Ellipsoid
	Profile   *Profile
	Revolve   *Revolve
	Mesh      *MeshFile
}

type (
	// Box: size x, y, z; CornerRadius in plan; EdgeRadius on every other edge.
	Box struct {
		Size                     [3]float64
		CornerRadius, EdgeRadius float64
	}
	// Cylinder stands when Along is AxisZ; Height is its length.
	Cylinder struct {
		Diameter, Height float64
		Along            Axis
		EdgeRadius       float64
	}
	// Capsule is a cylinder with hemispherical ends; Length is over all.
	Capsule struct {
		Diameter, Length float64
		Along            Axis
	}
	// Ellipsoid has its three diameters along x, y, z.
	Ellipsoid struct{ Size [3]float64 }
	// Profile is a plan outline extruded upwards. Points has the corners; or
	// File an SVG or DXF with one closed path. Bulge is tan(sweep/4) of the arc
	// that leaves each point, 0 for a line.
	Profile struct {
		Points       [][2]float64
		Bulge        []float64
		CornerRadius float64
		EdgeRadius   float64
		Height       float64
		File         string
		Unit         float64 // mm a unit of the file; 0: as the file says
		Layer        string  // of the file that the outline is on; "": the whole file
	}
	// Revolve is a half outline (radius, height) turned about the vertical.
	Revolve struct{ Points [][2]float64 }
	// MeshFile is a body in a file of triangles.
	MeshFile struct {
		File string
		Unit float64 // mm a unit; 0: as the file or its format says
		Up   Up      // "": as its format has it
	}
	// Screws hold the buck on the platen from below.
	Screws struct {
		Thread Thread
		Hold   Hold
		At     [][2]float64 // in the kit's plan; nil: four places are chosen
		Hole   *float64     // of the insert, by its sheet; nil: the usual
		Length *float64     // of the insert; nil: the usual
	}
	// WeightTest is one measurement of a liner: a mass on an area, and the thickness read under it.
	WeightTest struct{ Mass, Area, Thickness float64 }
	// Span is a least and a most.
	Span struct{ Least, Most float64 }
)

// The enumerations are the words of the kit file.
type (
	Wrap    string
	Pads    string
	Closure string
	Side    string
	Axis    string
	Up      string
	Stack   string
	Label   string
	Nest    string
	Grip    string
	Thread  string
	Hold    string
	Cutter  string

	LabelMaterial string
	StockKind     string
)

const (
	WrapPockets Wrap = "pockets"
	WrapRim     Wrap = "rim"
	WrapSkirt   Wrap = "skirt"

	PadsAuto Pads = "auto"
	PadsFull Pads = "full"
	PadsNone Pads = "none"

	ClosureCatch   Closure = "catch"
	ClosureBand    Closure = "band"
	ClosureMagnets Closure = "magnets"
	ClosureSeal    Closure = "seal"
	ClosureNone    Closure = "none"

	Front Side = "front" // -y
	Back  Side = "back"  // +y
	Left  Side = "left"  // -x
	Right Side = "right" // +x

	AxisX Axis = "x"
	AxisY Axis = "y"
	AxisZ Axis = "z"

	StackWorst Stack = "worst"
	StackRSS   Stack = "rss"

	LabelGroove Label = "groove"
	LabelNone   Label = "none"

	NestAuto Nest = "auto" // when felt wraps the skirt
	NestYes  Nest = "yes"
	NestNo   Nest = "no"

	GripWings Grip = "wings"
	GripNone  Grip = "none"

	M3 Thread = "M3"
	M4 Thread = "M4"
	M5 Thread = "M5"
	M6 Thread = "M6"

	HoldInsert Hold = "insert" // a brass insert, set with heat
	HoldTapped Hold = "tapped" // a thread cut into the print

	Knife Cutter = "knife"
	Laser Cutter = "laser"

	LabelPaper     LabelMaterial = "paper"
	LabelPolyester LabelMaterial = "polyester"
	LabelVinyl     LabelMaterial = "vinyl"

	StockFelt   StockKind = "felt"
	StockSponge StockKind = "sponge"
	StockLabel  StockKind = "label"
	StockSheet  StockKind = "sheet"
)
