package main

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"buckwright/params"
	"buckwright/templates"
)

func newMaterials() *cobra.Command {
	var asJSON bool
	cmd := &cobra.Command{
		Use:   "materials [KIND]",
		Short: "Print the tables of materials and machines with their sources",
		Long: "Print the tables of materials and machines with their sources.\nKIND is one of: " +
			strings.Join(params.Kinds(), ", ") + "; without it all are printed.\nA kit replaces any value: `materials: {sheet: {abs: {shrink: 0.55 %}}}`.",
		Example: "  buckwright materials liner",
		Args:    cobra.MaximumNArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			kinds := params.Kinds()
			if len(args) == 1 {
				if !slices.Contains(kinds, args[0]) {
					return usage("one of: "+strings.Join(kinds, ", "), "%v", params.NoRow("table", args[0], kinds))
				}
				kinds = args
			}
			t, err := templates.Tables()
			if err != nil {
				return err
			}
			if asJSON {
				return printJSON(cmd.OutOrStdout(), tablesJSON(t, kinds))
			}
			return printTables(cmd.OutOrStdout(), t, kinds)
		},
	}
	cmd.Flags().BoolVar(&asJSON, "json", false, "print as JSON, every value in its plain unit")
	return cmd
}

func tablesJSON(t *params.Tables, kinds []string) map[string]any {
	all := map[string]any{
		"sheet": t.Sheets, "liner": t.Liners, "former": t.Formers, "printer": t.Printers, "print": t.PrintMaterials,
	}
	out := map[string]any{}
	for _, k := range kinds {
		out[k] = all[k]
	}
	return out
}

// table is one table as it is printed.
type table struct {
	columns []string
	rows    [][]string
	sources []string // one for each row
}

func tableOf(t *params.Tables, kind string) table {
	switch kind {
	case "sheet":
		return sheetTable(t.Sheets)
	case "liner":
		return linerTable(t.Liners)
	case "former":
		return formerTable(t.Formers)
	case "printer":
		return printerTable(t.Printers)
	}
	return printMaterialTable(t.PrintMaterials)
}

func printTables(w io.Writer, t *params.Tables, kinds []string) error {
	for i, kind := range kinds {
		about, err := templates.About(kind)
		if err != nil {
			return err
		}
		if i > 0 {
			fmt.Fprintln(w)
		}
		fmt.Fprintf(w, "%s\n%s\n\n", strings.ToUpper(kind), about)
		if err := printTable(w, tableOf(t, kind)); err != nil {
			return err
		}
	}
	return nil
}

// printTable lists the sources below the rows; rows that share one share its line.
func printTable(w io.Writer, t table) error {
	tw := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintln(tw, strings.Join(t.columns, "\t"))
	for _, r := range t.rows {
		fmt.Fprintln(tw, strings.Join(r, "\t"))
	}
	if err := tw.Flush(); err != nil {
		return err
	}
	fmt.Fprintln(w, "\nsources")
	for i := 0; i < len(t.rows); {
		names := []string{t.rows[i][0]}
		j := i + 1
		for ; j < len(t.rows) && t.sources[j] == t.sources[i]; j++ {
			names = append(names, t.rows[j][0])
		}
		fmt.Fprintf(w, "  %s: %s\n", strings.Join(names, ", "), t.sources[i])
		i = j
	}
	return nil
}

func sheetTable(rows []params.Sheet) table {
	t := table{columns: []string{"name", "kg/m3", "forms at C", "core C", "set C", "shrink %", "draft male/female", "gauges mm", "vacuum kPa", "title"}}
	for _, s := range rows {
		t.add(s.Source, s.Name, num(s.Density), num(s.Low)+"-"+num(s.Up), num(s.Core), num(s.Set), percents(s.Shrink),
			num(s.MaleDraft)+"/"+num(s.FemaleDraft), spanText(s.Gauges), orDash(s.LeastVacuum), s.Title+marks(s))
		if s.Note != "" {
			t.sources[len(t.sources)-1] += "\n    note: " + s.Note
		}
	}
	return t
}

func marks(s params.Sheet) string {
	out := ""
	for _, m := range []struct {
		on   bool
		text string
	}{{s.Chlorinated, "never to a laser"}, {s.DryFirst, "dry first"}, {s.Crystalline, "crystalline"}} {
		if m.on {
			out += "; " + m.text
		}
	}
	return out
}

func linerTable(rows []params.Liner) table {
	t := table{columns: []string{"name", "kind", "kg/m3", "p0 kPa", "kPa at 25 %", "friction", "thickness +- %", "most %", "set %", "title"}}
	for _, l := range rows {
		stress := "-"
		if l.Kind == params.Sponge {
			stress = spanText(l.Stress25)
		}
		title := l.Title
		if l.Chlorinated {
			title += "; never to a laser"
		}
		t.add(l.Source, l.Name, string(l.Kind), num(l.Density), orDash(l.P0), stress, num(l.Friction),
			num(100*l.ThicknessTol), num(100*l.Most), num(100*l.Set), title)
	}
	return t
}

func formerTable(rows []params.Former) table {
	t := table{columns: []string{"name", "area mm", "clamp", "depth", "vacuum kPa", "platen pitch/hole/border", "tank l", "pump l/min", "heater C", "sides", "title"}}
	for _, f := range rows {
		sides := "1"
		if f.TwoSided {
			sides = "2"
		}
		t.add(f.Source, f.Name, num(f.Area[0])+" x "+num(f.Area[1]), num(f.Clamp), num(f.Depth), num(f.Vacuum),
			num(f.Pitch)+"/"+num(f.Hole)+"/"+num(f.Border), orDash(f.Tank), orDash(f.Pump), num(f.Heater), sides, f.Title)
	}
	return t
}

func printerTable(rows []params.Printer) table {
	t := table{columns: []string{"name", "bed mm", "nozzle", "layer", "least hole", "foot", "title"}}
	for _, p := range rows {
		bed := num(p.Bed[0]) + " x " + num(p.Bed[1]) + " x " + num(p.Bed[2])
		t.add(p.Source, p.Name, bed, num(p.Nozzle), num(p.Layer), num(p.LeastHole), num(p.Foot), p.Title)
	}
	return t
}

func printMaterialTable(rows []params.PrintMaterial) table {
	t := table{columns: []string{"name", "kg/m3", "modulus MPa", "safe strain %", "hdt 1.8/0.45 MPa C", "tg C", "friction", "comes out short %", "title"}}
	for _, m := range rows {
		t.add(m.Source, m.Name, num(m.Density), num(m.Modulus), num(100*m.SafeStrain), num(m.HDT.Least)+"/"+num(m.HDT.Most),
			num(m.Tg), num(m.Friction), percents(m.ShrinkScale), m.Title)
	}
	return t
}

func (t *table) add(source string, cells ...string) {
	t.rows = append(t.rows, cells)
	t.sources = append(t.sources, source)
}

// num writes a table's value without the noise of a conversion.
func num(v float64) string {
	return strconv.FormatFloat(math.Round(v*1e4)/1e4, 'f', -1, 64)
}

func orDash(v float64) string {
	if v == 0 {
		return "-"
	}
	return num(v)
}

func spanText(s params.Span) string {
	if s.Least == s.Most {
		return num(s.Least)
	}
	return num(s.Least) + "-" + num(s.Most)
}

func percents(s params.Span) string {
	return spanText(params.Span{Least: 100 * s.Least, Most: 100 * s.Most})
}
