// Package fit derives every size that is not typed by the user: clearances,
// compressions, tolerances, shrinkage, heights. Arithmetic only; every result
// carries its formula, unit, source and its nominal, least and most value.
//
// Frame: z is up and is the pull direction; z = 0 is the product-side surface
// of the sheet at the rim, bare of felt. Millimetres, newtons, kilopascals, grams.
package fit

import "buckwright/generate/geom"

// Dims are the finished sizes that the solids are cut to.
type Dims struct {
	Items   []ItemDims
	Pocket  PocketDims
	Insert  InsertDims
	Buck    BuckDims
	Press   PressDims
	Base    BaseDims
	Lid     LidDims
	Trim    TrimDims
	Closure ClosureDims
	Print   PrintDims
	Former  FormerDims
	Shrink  Span  // mould shrinkage of the sheet, share
	Liner   Law   // of the felt, by the kit's weight test where there is one
	Pads    Law   // of the lid liner, likewise
	Rows    []Row // every derived value with its formula and source, in report order
}

// Span is a nominal value between a least and a most.
type Span struct{ Nominal, Least, Most float64 }

// Row is one derived value as it is reported and written to kit.json.
type Row struct {
	ID      string  `json:"id"`    // r_pocket, slip.side, lid.ceiling, force.plug.logger, ...
	Title   string  `json:"title"` // plain words
	Where   string  `json:"where"` // part or item, "" for the kit
	Unit    string  `json:"unit"`  // mm, N, kPa, share, deg, g
	Nominal float64 `json:"nominal"`
	Least   float64 `json:"least"`
	Most    float64 `json:"most"`
	Formula string  `json:"formula"` // with symbols as in the row titles
	Source  string  `json:"source"`
}

// ItemDims seats one item.
type ItemDims struct {
	Name     string
	Depth    float64 // of the resting item below the rim
	SeatRise float64 // the item's solid is placed lower by this to cut the pocket
	Height   float64 // the item's own height
	Mass     float64
	PadForce float64 // N
	PadArea  float64 // mm²
	PadZ     float64 // z of the underside of the pad's boss; of the ceiling when the lining is full
	PlugArea float64 // mm², plan of the item, for forces
	Notches  []NotchDims

	// FloorStep is what the sheet is thicker under it than on its pocket's
	// walls; the sheet's underside is cut lower by it. 0 until formed.
	FloorStep float64

	FloorCompression float64 // share, of the liner under it
	Contact          float64 // height of the band on a wall that the liner touches, along the wall
	Built            Built   // liner compression on its walls over the tolerances
	Pad              Built   // compression of its pad
	PlugForce        Span    // N
	Under            float64 // z of its pocket's deepest underside
	Wall             Span    // thickness of its pocket's walls, the gauge's spread included
	Buck             float64 // r_buck of its pocket: Finished and the wall
}

// Built is a liner's compression as the parts really come out, as shares. RSS holds
// once the printer is calibrated: before that, two prints of one machine err together.
type Built struct {
	Worst, RSS Span
	Drawn      Span    // 1 %, 50 % and 99 % quantile of a Monte-Carlo with a fixed start
	Loose      float64 // chance that the liner does not touch the wall
}

// NotchDims is one finger notch in the item's own plan frame before it is
// turned: it runs from the item's middle to Out beyond the item's widest line.
type NotchDims struct {
	Dir   geom.Vec2 // unit, outwards
	Width float64
	Out   float64
	Depth float64 // of the notch's floor below the rim
}

// PocketDims are the radii r of the pocket family: each surface is pocket(r).
type PocketDims struct {
	Draft       geom.Angle
	MouthRadius float64 // on the buck
	Close       float64 // closing radius: the gauge
	Finished    float64 // r_pocket, sheet's product side
	Buck        float64 // r_buck, sheet's underside: mean over the items
	Plug        float64 // r_plug, usually negative
	Spacing     float64
}

// InsertDims are the formed and trimmed sheet.
type InsertDims struct {
	Margin       float64
	Draft        geom.Angle
	CornerRadius float64
	RimRadius    float64 // on the buck's outer rim edge
	Gauge        float64
	Rim          float64 // thickness of the rim
	Wall         float64 // thickness of pocket walls, mean over the pockets
	Skirt        float64 // thickness of the skirt
	TrimTol      float64 // one side, of the trim line
	Trim         float64 // z of the trim line
	Plan         [2]float64
	WallSpan     Span    // Wall between its least and most, the gauge's spread included
	WallThin     float64 // mean thickness at the floor corners of the thinnest pocket
	SkirtSpan    Span
}

// Circle is a round place of the plan.
type Circle struct {
	At geom.Vec2
	R  float64
}

// BuckDims size the forming tool.
type BuckDims struct {
	Floor      float64 // least material between a pocket and the channels
	VentDia    float64 // hole through the land, finished
	VentDrill  bool    // the printer cannot print VentDia: a pilot dimple marks it for the drill
	Land       float64
	Bore       float64
	Pitch      float64     // of vents
	Channel    float64     // width of a channel and of its mouth
	ChannelH   float64     // height of a channel's upright wall; its roof rises at 45 degrees above
	ChannelGap float64     // spacing of channels
	Pin        []geom.Vec2 // places of the plan that must have a vent
	Forbid     []Circle    // places that may not
	VentDrawn  float64     // VentDia less the printer's measured offset of holes
	Dimple     float64     // height of the mark that a vent leaves
	Bottom     float64     // z of the underside
	Screw      ScrewDims
}

// ScrewDims size the bosses for screws through the platen; the zero value has none.
type ScrewDims struct {
	Thread string
	Tapped bool
	Bore   float64     // diameter as drawn
	Deep   float64     // from the underside
	Boss   float64     // diameter of the solid round the bore
	At     []geom.Vec2 // places that are given
	Count  int         // places to choose when none is given
}

// PressDims size the press tool and the nest.
type PressDims struct {
	EdgeRadius float64 // of the plug
	Stop       float64 // height of the stops' underside above the rim
	Plate      float64 // thickness of the back plate
	Relief     float64 // diameter of the air reliefs
	Nest       bool
	NestGap    float64 // clearance of the nest
	RimFelt    float64 // felt on the rim, 0 when it is bare
	Pressure   float64 // kPa that the plugs press with
	Squeeze    float64 // compression of the felt under the plugs, share
}

// BaseDims size the case's base.
type BaseDims struct {
	InsertGap float64 // to the insert, each side, at the trim line
	SkirtFelt bool    // felt fills that gap
	NeckWall  float64
	Floor     float64
	Neck      float64 // height of the neck above the shoulder
	NeckTop   float64 // z of the neck's top
	TrimDrop  float64 // trim line below the deepest underside
	LedgeDrop float64 // ledge below the trim line
	GlueGap   float64 // between a support and the pocket underside
	Foot      float64 // elephant's foot chamfer
}

// LidDims size the case's lid.
type LidDims struct {
	Slip    float64 // between neck and lid, each side, as drawn: with twice the printer's measured offset
	Wall    float64
	Top     float64 // thickness of the top
	Ceiling float64 // z of the ceiling above the rim
	Liner   float64 // thickness of the lid liner
	Full    bool    // one liner over the whole ceiling
	Pads    bool
	Label   bool
}

// TrimDims size the trim guide.
type TrimDims struct {
	Seat float64 // height over the table that the knife's blade lies at
}

// ClosureDims size what holds the lid.
type ClosureDims struct {
	Kind       string
	Bead       float64 // height of the bead, radial
	TongueW    float64 // width of a spring tongue
	TongueL    float64 // length of a spring tongue
	Tongues    int
	Holds      float64 // N
	Pads       float64 // N, the sum of pad forces it must hold
	Catch      float64 // depth that a bead reaches behind its edge, radial
	Strain     Span    // of a tongue when the lid goes on, share
	Pairs      int     // of magnets, one at the middle of each of so many sides
	MagnetDia  float64 // of a disc
	MagnetH    float64 // of a disc
	MagnetBore float64 // diameter of the bores that hold them
	MagnetDeep float64 // depth of the bores from the joint
}

// PrintDims describe the printer as far as walls and scales go.
type PrintDims struct {
	Width, Layer, Nozzle float64
	Scale                geom.Vec // drawn sizes are multiplied by this
	Tp                   float64  // face tolerance, one side
	LeastHole            float64
	Bed                  geom.Vec
	Offset, Hole         float64 // measured, of outer faces and of holes; more than 0: they come out too large
}

// FormerDims describe the forming machine.
type FormerDims struct {
	Area   [2]float64
	Clamp  float64
	Depth  float64
	Vacuum float64
	Pitch  float64
	Hole   float64
	Border float64
}
