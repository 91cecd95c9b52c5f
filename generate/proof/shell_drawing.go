package proof

// Shell are the sizes of a case that its drawing takes. All heights are z; the
// outline is that of the insert at its trim line.
type Shell struct {
	Insert                     Rounded
	Gap, Wall, Slip            float64
	Floor                      float64 // thickness of the base's floor and of the lid's top
	Ledge, Shoulder, Neck, Lid float64 // z of the base's floor, the joint, the neck's top, the ceiling
	Foot                       float64 // chamfer of the faces that lie on the bed
	Lead                       float64 // chamfers by which the lid finds the neck
}

// inward closes a section: farther in than any outline can be shrunk.
const inward = -1e4

// Base is the base without what stands on its floor, its air paths and its half
// of the closure: wall and floor are the insert's room; below the joint the wall
// is neck, slip and the lid's wall together.
func (s Shell) Base() Section {
	neck, out, low := s.Gap+s.Wall, s.out(), s.Ledge-s.Floor
	return Section{s.Insert, []Corner{
		{"floor's inside", inward, low},
		{"bed rim", out - s.Foot, low},
		{"foot", out, low + s.Foot},
		{"shoulder rim", out, s.Shoulder},
		{"neck foot", neck, s.Shoulder},
		{"neck shoulder", neck, s.Neck - s.Lead},
		{"neck rim", neck - s.Lead, s.Neck},
		{"neck inner rim", s.Gap, s.Neck},
		{"floor rim", s.Gap, s.Ledge},
		{"floor's inside", inward, s.Ledge},
	}}
}

// Cover is the lid without bosses, label, scallops and its half of the closure.
func (s Shell) Cover() Section {
	skirt, out, top := s.Gap+s.Wall+s.Slip, s.out(), s.Lid+s.Floor
	return Section{s.Insert, []Corner{
		{"top's inside", inward, s.Lid},
		{"ceiling rim", skirt, s.Lid},
		{"skirt inner edge", skirt, s.Shoulder + s.Lead},
		{"landing inner rim", skirt + s.Lead, s.Shoulder},
		{"landing rim", out, s.Shoulder},
		{"top edge", out, top - s.Foot},
		{"bed rim", out - s.Foot, top},
		{"top's inside", inward, top},
	}}
}

// out is how far the case's outside is from the insert's trim line.
func (s Shell) out() float64 { return s.Gap + 2*s.Wall + s.Slip }
