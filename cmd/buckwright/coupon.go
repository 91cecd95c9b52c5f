package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"buckwright/generate"
	"buckwright/generate/store"
	"buckwright/params"
	"buckwright/templates"
)

// couponFlags is the command line of coupon.
type couponFlags struct {
	dir, material string
	force         bool
}

func newCoupon() *cobra.Command {
	var flags couponFlags
	cmd := &cobra.Command{
		Use:   "coupon PRINTER",
		Short: "Make the fit coupon of a printer, to be printed once and read",
		Long: `Make the fit coupon of a printer: graded slots, ribs, holes and walls, and two
sides of 150 mm. It is printed once for each printer and filament and read
without a screen; reading.txt says how. PRINTER is a row of the printer table
(` + "`buckwright materials printer`" + ` lists them), a printer file or a kit. The files
go to out/coupon-PRINTER unless -o says otherwise.

` + statusHelp,
		Example: "  buckwright coupon bed-256 --material petg -o coupon",
		Args:    onePrinter,
		RunE:    func(cmd *cobra.Command, args []string) error { return flags.run(cmd, args) },
	}
	cmd.Flags().StringVarP(&flags.dir, "output", "o", "", "folder to write to (default out/coupon-PRINTER)")
	cmd.Flags().StringVar(&flags.material, "material", "", "filament, a row of the print table (default that of the printer file or kit, else abs)")
	cmd.Flags().BoolVar(&flags.force, "force", false, "write into a folder that holds other files")
	return cmd
}

func (f couponFlags) run(cmd *cobra.Command, args []string) error {
	kit, tables, err := loadPrinter(cmd.Context(), args[0], f.material)
	if err != nil {
		return err
	}
	if f.dir == "" {
		base := filepath.Base(args[0])
		f.dir = filepath.Join("out", "coupon-"+strings.TrimSuffix(base, filepath.Ext(base)))
	}
	out, err := store.Open(f.dir, f.force)
	if err != nil {
		return err
	}
	defer out.Abandon() // does nothing once committed
	if err := out.Claim("a fit coupon"); err != nil {
		return err
	}
	in := generate.CouponInput{Kit: kit, Tables: tables, Version: version}
	if err := generate.MakeCoupon(cmd.Context(), in, out.Write); err != nil {
		return err
	}
	if err := out.Commit(); err != nil {
		return err
	}
	_, err = fmt.Fprintln(cmd.OutOrStdout(), f.dir)
	return err
}

// loadPrinter finds a printer: a kit or a printer file by its ending, or else a
// row of the table. material, unless it is empty, replaces its filament.
func loadPrinter(ctx context.Context, word, material string) (*params.Kit, *params.Tables, error) {
	var src []byte
	var err error
	name, file := word, ""
	if isFile(word) {
		name, file = "", word
		if src, err = kitSource(ctx, word, nil); err != nil {
			return nil, nil, err
		}
	}
	kit, err := params.PrinterOnly(name, file, src)
	if err != nil {
		return nil, nil, err
	}
	if _, err := usePrinterFile(kit); err != nil {
		return nil, nil, err
	}
	tables, err := templates.Tables()
	if err != nil {
		return nil, nil, err
	}
	if file == "" {
		if _, err := tables.Printer(name); err != nil {
			return nil, nil, noRow(err, "; or a printer file or a kit, ending in .yaml")
		}
	}
	if material != "" {
		if _, err := tables.PrintMaterial(material); err != nil {
			return nil, nil, noRow(err, "")
		}
		kit.Printer.Material = material
	}
	tables, err = kit.Resolve(tables)
	return kit, tables, err
}

func isFile(word string) bool {
	switch strings.ToLower(filepath.Ext(word)) {
	case ".yaml", ".yml":
		return true
	}
	info, err := os.Stat(word)
	return err == nil && info.Mode().IsRegular()
}

// noRow names the rows that there are, and what else may be written.
func noRow(err error, more string) error {
	var unknown *params.UnknownRowError
	if errors.As(err, &unknown) {
		return usage("one of: "+strings.Join(unknown.Names, ", ")+more, "%v", err)
	}
	return err
}
