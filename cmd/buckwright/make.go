package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"buckwright/generate"
	"buckwright/generate/store"
	"buckwright/params"
)

// makeFlags is the command line of make.
type makeFlags struct {
	dir, quality  string
	parts         []string
	force, asJSON bool
}

func newMake() *cobra.Command {
	var flags makeFlags
	cmd := &cobra.Command{
		Use:   "make KIT",
		Short: "Make every part and plate of a kit",
		Long: `Make every part and plate of a kit, and say what may go wrong. KIT is a
kit file, or - for standard input. The files go to out/NAME, after the kit's
name, unless -o says otherwise.

` + statusHelp,
		Example: "  buckwright make logger.yaml -o logger",
		Args:    oneKit,
		RunE:    func(cmd *cobra.Command, args []string) error { return flags.run(cmd, args) },
	}
	f := cmd.Flags()
	f.StringVarP(&flags.dir, "output", "o", "", "folder to write to (default out/NAME)")
	f.StringVar(&flags.quality, "quality", "normal", "how close the meshes come to the solids: draft, normal, fine")
	f.StringSliceVar(&flags.parts, "parts", nil, "make these parts only, separated by commas, and keep the others that the folder holds")
	f.BoolVar(&flags.force, "force", false, "write into a folder that holds other files")
	f.BoolVar(&flags.asJSON, "json", false, "print the findings as JSON")
	return cmd
}

func (f makeFlags) run(cmd *cobra.Command, args []string) error {
	q, err := qualityOf(f.quality)
	if err != nil {
		return err
	}
	in, err := input(cmd.Context(), args[0], cmd.InOrStdin())
	if err != nil {
		return err
	}
	if err := knownParts(f.parts); err != nil {
		return err
	}
	in.Quality, in.Parts = q, f.parts
	if f.dir == "" {
		f.dir = filepath.Join("out", in.Kit.Name)
	}
	res, err := makeKit(cmd.Context(), in, f.dir, f.force, cmd.ErrOrStderr())
	if err != nil {
		return err
	}
	if f.asJSON {
		err = printJSON(cmd.OutOrStdout(), res.Findings)
	} else {
		printFindings(cmd.OutOrStdout(), res.Findings)
		printKept(cmd.OutOrStdout(), res.Kept)
		_, err = fmt.Fprintln(cmd.OutOrStdout(), f.dir)
	}
	return stopped(res.Findings, err)
}

func qualityOf(word string) (generate.Quality, error) {
	all := []generate.Quality{generate.Draft, generate.Normal, generate.Fine}
	if q := generate.Quality(word); slices.Contains(all, q) {
		return q, nil
	}
	return "", usage("one of: draft, normal, fine", "there is no quality %q", word)
}

// knownParts refuses a name that no part has.
func knownParts(parts []string) error {
	for _, name := range parts {
		all := generate.PartNames()
		if slices.Contains(all, name) {
			continue
		}
		hint := "one of: " + strings.Join(all, ", ")
		if near := params.NoRow("part", name, all).Near; near != "" {
			hint = "did you mean " + near + "? " + hint
		}
		return usage(hint, "--parts: no part is called %q", name)
	}
	return nil
}

// kept reads the parts that stay in the folder when only some are made. With force
// those that would not fit are given up.
func kept(in generate.Input, dir string, out *store.Dir, force bool) ([]generate.Part, error) {
	if in.Parts == nil {
		return nil, nil
	}
	parts, err := generate.Kept(in, version, out.Read)
	var stale *generate.StaleError
	switch {
	case errors.As(err, &stale) && force:
		return nil, nil
	case errors.As(err, &stale):
		return nil, usage("make all parts, or name another folder with -o; --force gives up the old ones", "%s %v", dir, stale)
	}
	return parts, err
}

// makeKit runs a kit and writes its folder, all or nothing.
func makeKit(ctx context.Context, in generate.Input, dir string, force bool, errw io.Writer) (*generate.Result, error) {
	out, err := store.Open(dir, force)
	if err != nil {
		return nil, err
	}
	defer out.Abandon() // does nothing once committed
	if err := out.Claim("the kit " + in.Kit.Name); err != nil {
		return nil, err
	}
	if in.Before, err = kept(in, dir, out, force); err != nil {
		return nil, err
	}
	bar := newProgress(errw)
	defer bar.finish()
	out.Protect(in.Kit.File, in.Kit.Beside(in.Kit.Printer.File))
	read := in.Read
	in.Read = func(name string) ([]byte, error) {
		out.Protect(name)
		return read(name)
	}
	res, err := waitFor(ctx, func() (*generate.Result, error) { return generate.Run(ctx, in, bar.report) })
	var none *generate.NoPartError
	if errors.As(err, &none) {
		return nil, usage("leave it out of --parts; a press nest is made when the liner wraps the skirt, or by press.nest: yes", "%v", none)
	}
	if err != nil {
		return nil, err
	}
	if err := res.Write(unless(ctx, out.Write), version); err != nil {
		return nil, err
	}
	return res, out.Commit()
}

// unless refuses to write once the run is interrupted: drawing pictures takes a while.
func unless(ctx context.Context, put generate.Put) generate.Put {
	return func(name string, write func(io.Writer) error) error {
		if err := ctx.Err(); err != nil {
			return err
		}
		return put(name, write)
	}
}

func printKept(w io.Writer, names []string) {
	if len(names) > 0 {
		fmt.Fprintf(w, "kept: %s\n", strings.Join(names, ", "))
	}
}
