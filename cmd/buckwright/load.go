package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"strings"
	"syscall"

	"github.com/spf13/cobra"

	"buckwright/generate"
	"buckwright/generate/check"
	"buckwright/params"
	"buckwright/templates"
)

// input reads a kit and all that it needs.
func input(ctx context.Context, file string, in io.Reader) (generate.Input, error) {
	job, err := loadKit(ctx, file, in)
	if err != nil {
		return generate.Input{}, err
	}
	return job, knownLimits(job.Kit)
}

// knownLimits refuses limits for rules that do not exist.
func knownLimits(kit *params.Kit) error {
	var ids []string
	for _, r := range check.All() {
		if r.Unit != check.None {
			ids = append(ids, r.ID)
		}
	}
	var problems params.Problems
	for _, id := range check.UnknownLimits(kit) {
		hint := "`buckwright check --list` names the rules that take a number"
		if near := params.NoRow("rule", id, ids).Near; near != "" {
			hint = "did you mean " + near + "? " + hint
		}
		problems = append(problems, kit.Problem("limits."+id, "no rule with a limit is called "+id, hint))
	}
	if len(problems) > 0 {
		return problems
	}
	return nil
}

// loadKit reads a kit file, or standard input for "-", and resolves the names
// in it against the tables that ship with the program.
func loadKit(ctx context.Context, file string, in io.Reader) (generate.Input, error) {
	src, err := kitSource(ctx, file, in)
	if err != nil {
		return generate.Input{}, err
	}
	kit, err := params.Parse(file, src)
	if err != nil {
		return generate.Input{}, err
	}
	filed, err := usePrinterFile(kit)
	if err != nil {
		return generate.Input{}, err
	}
	tables, err := templates.Tables()
	if err != nil {
		return generate.Input{}, err
	}
	tables, err = kit.Resolve(tables)
	if err != nil {
		return generate.Input{}, err
	}
	return generate.Input{Kit: kit, Source: append(src, filed...), Tables: tables, Read: readProduct}, nil
}

// usePrinterFile reads the printer file that a kit names and returns its bytes.
func usePrinterFile(kit *params.Kit) ([]byte, error) {
	name := kit.Printer.File
	if name == "" {
		return nil, nil
	}
	name = kit.Beside(name)
	src, err := readPlain(name, params.MostBytes)
	if err != nil {
		return nil, kit.Problem("printer.file", err.Error(), "`buckwright calibrate` writes a printer file; its name goes here, from the kit's folder")
	}
	return src, kit.UsePrinter(name, src)
}

func kitSource(ctx context.Context, file string, in io.Reader) ([]byte, error) {
	if file == "-" {
		return readKit(ctx, in)
	}
	f, err := waitFor(ctx, func() (*os.File, error) { return os.Open(file) }) // of a pipe that nobody writes to
	if err != nil && ctx.Err() != nil {
		return nil, err
	}
	if err != nil {
		hint := "`buckwright new FILE --template NAME` writes a commented kit"
		if _, beside := os.Stat(file + ".yaml"); beside == nil {
			hint = "did you mean " + file + ".yaml?"
		}
		return nil, badPath(err, hint)
	}
	defer f.Close()
	src, err := readKit(ctx, f)
	if err != nil {
		return nil, badPath(err, "name the kit file itself")
	}
	return src, nil
}

// readKit reads one byte more than a kit may have, so that Parse can refuse it.
func readKit(ctx context.Context, r io.Reader) ([]byte, error) {
	return waitFor(ctx, func() ([]byte, error) { return io.ReadAll(io.LimitReader(r, params.MostBytes+1)) })
}

// badPath makes a usage error of a path that the user can mend, and a failure of what
// the system refuses.
func badPath(err error, hint string) error {
	for _, mistake := range []error{fs.ErrNotExist, syscall.ENOTDIR, syscall.EISDIR, syscall.ENAMETOOLONG, syscall.ELOOP} {
		if errors.Is(err, mistake) {
			return exitError{exitUsage, fmt.Errorf("%w\n  hint: %s", err, hint)}
		}
	}
	return exitError{exitFailed, err}
}

// oneKit checks the arguments of the commands that take one kit file.
func oneKit(cmd *cobra.Command, args []string) error {
	switch len(args) {
	case 1:
		return nil
	case 0:
		return usage(cmd.CommandPath()+" my-kit.yaml; `buckwright new` lists starter kits", "no kit file is named")
	}
	return usage("one kit at a time; a name with spaces goes in quotes", "%d files are named: %s", len(args), strings.Join(args, ", "))
}

// onePrinter is the argument of the commands that take a printer.
func onePrinter(cmd *cobra.Command, args []string) error {
	switch len(args) {
	case 1:
		return nil
	case 0:
		return usage(cmd.CommandPath()+" bed-256 ...; `buckwright materials printer` lists the printers", "no printer is named")
	}
	return usage("one printer at a time; two lengths are written with a comma and no space between: --length 149.40,149.45", "%d printers are named: %s", len(args), strings.Join(args, ", "))
}
