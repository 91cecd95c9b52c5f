package generate

import (
	"context"
	"fmt"
	"io"
	"strings"

	"buckwright/generate/estimate"
	"buckwright/generate/export"
	"buckwright/generate/fit"
	"buckwright/generate/mesh"
	"buckwright/generate/solid"
	"buckwright/params"
)

// CouponInput is a printer to make the fit coupon for: a resolved kit of which
// only the printer counts.
type CouponInput struct {
	Kit     *params.Kit
	Tables  *params.Tables
	Version string // the tool's
}

// couponTol is the largest sag of the coupon's meshes, mm: it is measured with.
const couponTol = 0.004

// MakeCoupon writes the fit coupon through put: coupon.stl, coupon.3mf and
// reading.txt, which says how to print and to read it. The error is a
// *params.Problem when the bed is too small.
func MakeCoupon(ctx context.Context, in CouponInput, put Put) error {
	c := fit.StandardCoupon()
	p := in.Kit.Printer
	const brim = 2 // mm left on every side of the bed
	if side := min(p.Bed[0], p.Bed[1]); side < c.Bar+2*brim {
		return in.Kit.Problem("printer.bed", fmt.Sprintf("the coupon is %g mm long and wide, and the bed %g x %g mm", c.Bar, p.Bed[0], p.Bed[1]),
			"a scale cannot be measured on a shorter bar; measure a long print of your own and give printer.scale")
	}
	pieces, err := couponPieces(ctx, c, couponPrint(in.Kit))
	if err != nil {
		return err
	}
	all := &mesh.Mesh{}
	model := export.Model{Title: "fit coupon", Application: "buckwright " + in.Version}
	for _, o := range pieces {
		o.Meta = []export.Meta{{Name: "layer", Value: number(p.Layer) + " mm"}, {Name: "supports", Value: "none"}}
		model.Objects = append(model.Objects, o)
		all = all.With(o.Mesh)
	}
	if err := put("coupon.stl", func(w io.Writer) error { return export.WriteSTL(w, all, "fit coupon") }); err != nil {
		return err
	}
	if err := put("coupon.3mf", func(w io.Writer) error { return export.Write3MF(w, model) }); err != nil {
		return err
	}
	filament, err := in.Tables.PrintMaterial(p.Material)
	if err != nil {
		return err
	}
	take := estimate.Part(all, printSettings(in.Kit, couponPrint(in.Kit).Width, 3, filament.Density))
	return put("reading.txt", func(w io.Writer) error {
		_, err := io.WriteString(w, couponText(c, in.Kit, take))
		return err
	})
}

func couponPrint(k *params.Kit) solid.CouponPrint {
	p := k.Printer
	return solid.CouponPrint{Foot: p.Foot, Width: fit.BeadWidth(k), Layer: p.Layer}
}

// couponPieces meshes the coupon's bodies where they stand on the bed.
func couponPieces(ctx context.Context, c fit.Coupon, p solid.CouponPrint) ([]export.Object, error) {
	var out []export.Object
	for _, piece := range solid.Coupon(c, p) {
		m, err := mesh.Contour(ctx, piece.Solid, mesh.Options{Tol: couponTol})
		if err != nil {
			return nil, fmt.Errorf("coupon: %s: %w", piece.Name, err)
		}
		if m, err = onBed(m.Snap(), Fine.bedReach()); err != nil {
			return nil, fmt.Errorf("coupon: %s: %w", piece.Name, err)
		}
		out = append(out, export.Object{Name: piece.Name, Mesh: m})
	}
	return out, nil
}

// couponText is the sheet that lies beside the coupon.
func couponText(c fit.Coupon, k *params.Kit, take estimate.Print) string {
	p := k.Printer
	w := couponPrint(k).Width
	var b strings.Builder
	say := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }
	say("FIT COUPON")
	say("")
	say("Print coupon.3mf (or coupon.stl) as it lies, once for each printer and filament, the way you")
	say("print cases: %s, %g mm layers, three walls, %g %% infill, no support, no correction of sizes in", p.Material, p.Layer, p.Infill*100)
	say("the slicing program (XY compensation, scale: off). About %.0f g and %.1f h. Let it cool on the bed.", take.Grams, take.Seconds/3600)
	say("Caution: the nozzle and the bed are hot; ventilate as the printer's maker says.")
	say("")
	say("Numbers on the plate are hundredths of a millimetre: 15 is 0.15 mm. A column has one number for")
	say("its slot (in front), its rib (behind) and its hole (at the back). Go from -10 upwards in each row.")
	say("")
	say("1 tight   Hold the tongue by its foot and press it into the slots. The first that it enters with")
	say("          a firm push is tight. Do the same with the ring over the ribs. If the two rows differ,")
	say("          take the larger number; if by more than 5, look for an elephant's foot and try again.")
	say("          If not even %.0f takes it, the printer lays far too much filament: correct its flow first.", 100*c.Last())
	say("2 smooth  The first slot (or rib) where the piece slides by its own weight, without rattling.")
	say("3 hole    The first hole that the shank of a %g mm drill enters by hand.", c.Pin)
	say("          Caution: hold the drill by its smooth shank, not by the flutes; they cut.")
	say("4 length  The long side in front (x), then the long side at the left (y), with a calliper, both")
	say("          drawn %g mm. Measure three times, take the middle value.", c.Bar)
	say("5 walls   Walls of one to %d beads; each must be whole, without a gap between its beads. Fat faces", c.Walls)
	say("          add the same to all of them; if the error grows with the number, the slicing program")
	say("          lays another width of bead than the kit counts on: set it to %.3g mm, or give printer.width.", w)
	for n := 1; n <= c.Walls; n++ {
		say("            %d: %.2f mm", n, fit.PrintWall(n, w, p.Layer))
	}
	say("")
	say("Then, with your own numbers:")
	say("")
	say("  buckwright calibrate %s --material %s --tight 0.10 --smooth 0.20 --hole 0.15 --length 149.40,149.45 -o my-printer.yaml", k.PrinterWord(), p.Material)
	say("")
	say("and in a kit:")
	say("")
	say("  printer: {file: my-printer.yaml}")
	say("")
	say("The coupon is small. It shows how faces and holes come out and how a length shrinks; it does not")
	say("show a large part that warps. Measure the first case you print, too.")
	return b.String()
}
