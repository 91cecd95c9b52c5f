package main

import (
	"errors"
	"fmt"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"buckwright/generate/fit"
	"buckwright/params"
	"buckwright/templates"
)

// calibrateFlags is the command line of calibrate.
type calibrateFlags struct {
	read           readings
	file, material string
	force          bool
}

func newCalibrate() *cobra.Command {
	var flags calibrateFlags
	cmd := &cobra.Command{
		Use:   "calibrate PRINTER --tight MM --smooth MM --hole MM --length MM[,MM]",
		Short: "Turn what was read off the fit coupon into a printer file for kits",
		Long: `Turn what was read off the fit coupon into a printer file, which later kits
name as printer: {file: FILE}. PRINTER is what the coupon was made for: a row
of the printer table, a printer file or a kit. All readings are in mm; the mark
15 on the coupon is 0.15. One length stands for both sides. Without -o the file
is printed.

` + statusHelp,
		Example: "  buckwright calibrate bed-256 --material petg --tight 0.10 --smooth 0.20 --hole 0.15 --length 149.40,149.45 -o my-printer.yaml",
		Args:    onePrinter,
		RunE:    func(cmd *cobra.Command, args []string) error { return flags.run(cmd, args) },
	}
	f := cmd.Flags()
	f.StringVar(&flags.read.tight, "tight", "", "mark, in `MM`, of the first slot that the tongue enters with a push")
	f.StringVar(&flags.read.smooth, "smooth", "", "mark, in `MM`, of the first slot that it slides in by its own weight")
	f.StringVar(&flags.read.hole, "hole", "", "mark, in `MM`, of the first hole that a 3 mm shank enters")
	f.StringVar(&flags.read.length, "length", "", "length of the two long sides, along x and y: `MM[,MM]`")
	f.StringVar(&flags.material, "material", "", "filament that was printed, a row of the print table (default that of the printer file or kit, else abs)")
	f.StringVarP(&flags.file, "output", "o", "", "file to write, ending in .yaml")
	f.BoolVar(&flags.force, "force", false, "replace a file that is there")
	return cmd
}

func (f calibrateFlags) run(cmd *cobra.Command, args []string) error {
	for _, name := range []string{"tight", "smooth", "hole", "length"} {
		if !cmd.Flags().Changed(name) {
			return usage(strings.TrimSpace(cmd.Example), "--%s is missing", name)
		}
	}
	r, err := f.read.reading()
	if err != nil {
		return err
	}
	kit, _, err := loadPrinter(cmd.Context(), args[0], f.material)
	if err != nil {
		return err
	}
	text, err := printerFile(kit, r)
	if err != nil {
		return f.read.decimal(err)
	}
	if f.file == "" {
		_, err = fmt.Fprint(cmd.OutOrStdout(), text)
		return err
	}
	return writePrinterFile(cmd, f.file, text, f.force)
}

func writePrinterFile(cmd *cobra.Command, file, text string, force bool) error {
	if !strings.HasSuffix(strings.ToLower(file), ".yaml") && !strings.HasSuffix(strings.ToLower(file), ".yml") {
		return usage("name it "+strings.TrimSuffix(file, filepath.Ext(file))+".yaml", "%s does not end in .yaml, by which a kit knows it", file)
	}
	made, err := writeStarter(file, templates.Starter{Kit: []byte(text)}, force)
	if err != nil {
		return err
	}
	for _, f := range made {
		fmt.Fprintln(cmd.OutOrStdout(), f)
	}
	return nil
}

// printerFile is the text of a printer file: what the printer was, and what the
// reading says of it.
func printerFile(kit *params.Kit, r fit.Reading) (string, error) {
	c, err := fit.StandardCoupon().Calibrate(r)
	var wrong *fit.ReadingError
	if errors.As(err, &wrong) {
		return "", usage(wrong.Hint, "--%s: %s", wrong.Name, wrong.What)
	}
	if err != nil {
		return "", err
	}
	return printerText(kit, r, c), nil
}

// printerText keeps the keys that are given and replaces those that were measured.
func printerText(kit *params.Kit, r fit.Reading, c fit.Calibration) string {
	var b strings.Builder
	fmt.Fprintf(&b, "# A printer, measured with the fit coupon: tight %g, smooth %g, hole %g, lengths %g and %g mm.\n",
		r.Tight, r.Smooth, r.Hole, r.Length[0], r.Length[1])
	fmt.Fprintf(&b, "# In a kit: printer: {file: THIS FILE}. Keys beside it in the kit replace these.\n")
	replaced := map[string]bool{"offset": true, "hole_offset": true, "scale": true, "tolerance": true, "material": true, "file": true}
	section := ""
	for _, v := range kit.PrinterGiven() {
		key := strings.TrimPrefix(v.Key, "printer.")
		if replaced[key] {
			continue
		}
		if head, rest, nested := strings.Cut(key, "."); nested {
			if head != section {
				fmt.Fprintf(&b, "%s:\n", head)
			}
			section, key = head, "  "+rest
		}
		fmt.Fprintf(&b, "%s: %s\n", key, v.Text)
	}
	fmt.Fprintf(&b, "material: %s # what was printed; another filament wants a coupon of its own\n", kit.Printer.Material)
	fmt.Fprintf(&b, "offset: %.4f # mm, outer faces come out this much fat; within %.4f\n", c.Offset, c.OffsetOff)
	fmt.Fprintf(&b, "hole_offset: %.4f # mm, holes come out this much large; within %.3f\n", c.Hole, c.HoleOff)
	fmt.Fprintf(&b, "scale: [%.5f, %.5f, 1] # printed / drawn; z is not measured\n", c.Scale[0], c.Scale[1])
	fmt.Fprintf(&b, "tolerance: %.4f # mm, of one face, one side\n", c.Tolerance)
	return b.String()
}
