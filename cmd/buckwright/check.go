package main

import (
	"errors"
	"fmt"
	"io"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"buckwright/generate"
	"buckwright/generate/check"
	"buckwright/params"
)

// checkFlags is the command line of check.
type checkFlags struct {
	list, asJSON bool
}

func newCheck() *cobra.Command {
	var flags checkFlags
	cmd := &cobra.Command{
		Use:   "check KIT",
		Short: "Say how a kit will fit and form and what may go wrong, writing no files",
		Long: `Say how a kit will fit and form and what may go wrong, writing no files. KIT is
a kit file, or - for standard input.

` + statusHelp,
		Example: `  buckwright check logger.yaml
  buckwright check --list`,
		Args: func(cmd *cobra.Command, args []string) error {
			if flags.list {
				return cobra.NoArgs(cmd, args)
			}
			return oneKit(cmd, args)
		},
		RunE: func(cmd *cobra.Command, args []string) error { return flags.run(cmd, args) },
	}
	cmd.Flags().BoolVar(&flags.list, "list", false, "print every rule with its limit and source")
	cmd.Flags().BoolVar(&flags.asJSON, "json", false, "print as JSON")
	return cmd
}

func (f checkFlags) run(cmd *cobra.Command, args []string) error {
	if f.list {
		return printRules(cmd.OutOrStdout(), f.asJSON)
	}
	in, err := input(cmd.Context(), args[0], cmd.InOrStdin())
	if err != nil {
		return err
	}
	bar := newProgress(cmd.ErrOrStderr())
	defer bar.finish()
	res, err := waitFor(cmd.Context(), func() (*generate.Result, error) { return generate.Preview(cmd.Context(), in, bar.report) })
	if err != nil {
		return err
	}
	bar.finish()
	if f.asJSON {
		err = printJSON(cmd.OutOrStdout(), map[string]any{"values": res.Kit.Values(), "fits": res.Dims.Rows, "forming": res.Prediction(), "findings": res.Findings})
	} else {
		err = errors.Join(printValues(cmd.OutOrStdout(), res.Kit), printFits(cmd.OutOrStdout(), res), printForming(cmd.OutOrStdout(), res))
		printFindings(cmd.OutOrStdout(), res.Findings)
	}
	return stopped(res.Findings, err)
}

// rule is a rule as it is listed.
type rule struct {
	ID     string `json:"id"`
	Title  string `json:"title"`
	Limit  string `json:"limit"`
	Key    string `json:"key"`
	Source string `json:"source"`
}

func printRules(w io.Writer, asJSON bool) error {
	var all []rule
	for _, r := range check.All() {
		all = append(all, rule{r.ID, r.Title, r.Limit, r.Key, r.Source})
	}
	if asJSON {
		return printJSON(w, all)
	}
	for _, r := range all {
		fmt.Fprintf(w, "%s: %s\n  limit: %s\n  key: %s\n  source: %s\n", r.ID, r.Title, r.Limit, r.Key, r.Source)
	}
	return nil
}

// printValues lists what the kit is made with; a star marks what it does not
// give itself.
func printValues(w io.Writer, kit *params.Kit) error {
	tw := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintln(tw, "key\tvalue\t\twhat it is")
	for _, v := range kit.Values() {
		mark := "*"
		if v.Given {
			mark = ""
		}
		if v.Text != "" {
			fmt.Fprintf(tw, "%s\t%s\t%s\t%s\n", v.Key, v.Text, mark, v.Help)
		}
	}
	fmt.Fprint(tw, "\n* not in the kit file: a default, or from a row or a printer file that it names\n\n")
	return tw.Flush()
}

func printFits(w io.Writer, res *generate.Result) error {
	tw := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintln(tw, "fit\twhere\tnominal\tleast\tmost\tunit\ttitle")
	for _, r := range res.Dims.Rows {
		by, unit := 1.0, r.Unit
		if unit == "share" {
			by, unit = 100, "%"
		}
		fmt.Fprintf(tw, "%s\t%s\t%.4g\t%.4g\t%.4g\t%s\t%s\n", r.ID, r.Where, by*r.Nominal, by*r.Least, by*r.Most, unit, r.Title)
	}
	if err := tw.Flush(); err != nil {
		return err
	}
	_, err := fmt.Fprintln(w)
	return err
}

// printForming lists what the sheet is predicted to do.
func printForming(w io.Writer, res *generate.Result) error {
	all := res.Prediction()
	if len(all) == 0 {
		return nil
	}
	tw := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintln(tw, "forming\twhere\tvalue\tunit\tat x, y, z")
	for _, p := range all {
		at := ""
		if p.At != nil {
			at = fmt.Sprintf("%.0f, %.0f, %.0f", p.At.X, p.At.Y, p.At.Z)
		}
		fmt.Fprintf(tw, "%s\t%s\t%.3g\t%s\t%s\n", p.Name, p.Where, p.Value, p.Unit, at)
	}
	if err := tw.Flush(); err != nil {
		return err
	}
	_, err := fmt.Fprintln(w)
	return err
}
