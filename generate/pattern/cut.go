package pattern

import "fmt"

// Cutter is what cuts a flat, and how wide a cut it takes away, in mm.
type Cutter struct {
	Name string // knife, laser
	Kerf float64
}

// Laser is the cutter that burns.
const Laser = "laser"

// Ready makes a flat ready to be cut: its outline checked and turned the right
// way round, the kerf moved into the waste. A flat that the cutter must not
// touch, and one that it cannot cut, is refused: Refused says why. key is what
// the kit says to have it cut with a knife.
func (f *Flat) Ready(c Cutter, key string) {
	f.Cutter, f.Kerf = c.Name, c.Kerf
	if f.Template {
		f.Cutter, f.Kerf = "knife", 0
	}
	if f.Refused != "" {
		return
	}
	if f.Material.Chlorinated && f.Cutter == Laser {
		f.Cutter, f.Kerf = "knife", 0
		f.Refused = f.Material.Title + " contains chlorine: under a laser it gives hydrogen chloride, which is poisonous and eats the machine. " +
			"Cut it with a knife and say so in the kit, " + key + "; its safety data sheet and the laser's maker have the last word."
		return
	}
	f.Shape = f.Shape.Oriented()
	if err := f.cut(); err != nil {
		f.Refused, f.Cut = "its outline cannot be cut: "+err.Error(), Shape{}
	}
}

// cut sets what the cutter follows.
func (f *Flat) cut() (err error) {
	if err := f.Shape.Check(); err != nil {
		return err
	}
	if f.Cut, err = f.Shape.Grow(f.Kerf / 2); err != nil {
		return fmt.Errorf("with a kerf of %s: %w", short(f.Kerf), err)
	}
	if len(f.Cut.Holes) != len(f.Shape.Holes) {
		return fmt.Errorf("a cut-out is narrower than the kerf of %s", short(f.Kerf))
	}
	return nil
}
