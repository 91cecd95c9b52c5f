package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os/signal"
	"syscall"

	"github.com/spf13/cobra"

	"buckwright/generate/store"
	"buckwright/params"
)

// version is written into what the program makes.
const version = "0.1.0"

// Exit statuses, printed in the help and relied on by scripts.
const (
	exitOK     = 0 // done, and no finding says stop
	exitStop   = 1 // done, but a finding says stop
	exitUsage  = 2 // the kit or the command line is wrong
	exitFailed = 3 // the system failed: disk, permissions, interruption
)

const statusHelp = `Exit status:
  0  done, no finding says stop
  1  done, but a finding says stop
  2  the kit or the command line is wrong
  3  the system failed (disk, permissions), or the run was interrupted
`

// exitError is an error that knows its exit status.
type exitError struct {
	code int
	err  error
}

func (e exitError) Error() string { return e.err.Error() }
func (e exitError) Unwrap() error { return e.err }

// usage makes an error of a wrong command line, with a hint if there is one.
func usage(hint, format string, args ...any) error {
	err := fmt.Errorf(format, args...)
	if hint != "" {
		err = fmt.Errorf("%w\n  hint: %s", err, hint)
	}
	return exitError{exitUsage, err}
}

// run is the whole program apart from the process: tests call it too. It is
// the only place that prints an error or chooses an exit status.
func run(args []string, in io.Reader, out, errw io.Writer) int {
	ctx, stop := signal.NotifyContext(context.Background(), ends()...)
	defer stop()
	context.AfterFunc(ctx, stop) // a second signal ends the program at once
	started := false             // cobra's own complaints all come before a command starts
	stdout := &watched{w: out}
	root := newRoot()
	root.PersistentPreRun = func(*cobra.Command, []string) { started = true }
	root.SetArgs(args)
	root.SetIn(in)
	root.SetOut(stdout)
	root.SetErr(errw)
	err := root.ExecuteContext(ctx)
	if errors.Is(stdout.err, syscall.EPIPE) { // who reads has gone, and wants no more words
		return exitFailed
	}
	if err == nil && stdout.err != nil {
		err = fmt.Errorf("cannot write the output: %w", stdout.err)
		started = true
	}
	if err == nil {
		return exitOK
	}
	if errors.Is(err, context.Canceled) {
		err = exitError{exitFailed, errors.New("interrupted; no file was written")}
	}
	fmt.Fprintf(errw, "buckwright: %v\n", err)
	return status(err, started)
}

// status is the exit status for an error.
func status(err error, started bool) int {
	var known exitError
	var problem *params.Problem
	var folder *store.UserError
	switch {
	case errors.As(err, &known):
		return known.code
	case errors.As(err, &problem), errors.As(err, &folder):
		return exitUsage
	case !started:
		return exitUsage
	}
	return exitFailed
}

// watched remembers that a write failed: a full disk behind a redirection must
// not look like success.
type watched struct {
	w   io.Writer
	err error
}

func (o *watched) Write(p []byte) (int, error) {
	n, err := o.w.Write(p)
	if err != nil && o.err == nil {
		o.err = err
	}
	return n, err
}

func newRoot() *cobra.Command {
	root := &cobra.Command{
		Use:   "buckwright",
		Short: "Make printable tooling for small runs of formed, lined cases",
		Long: `From one file of measurements, a kit, buckwright makes the tooling for a case:
forming buck, felt press tool, base and lid; it predicts how the sheet forms
and how the fits stack up, and says what will go wrong before anything is printed.

` + statusHelp,
		Example: `  buckwright new logger.yaml --template tide-logger
  buckwright check logger.yaml
  buckwright make logger.yaml`,
		Version:       version,
		SilenceErrors: true, // run prints them, once
		SilenceUsage:  true, // a wrong kit is not a reason to reprint the help
	}
	root.CompletionOptions.HiddenDefaultCmd = true
	root.AddCommand(newNew(), newMake(), newCheck(), newCoupon(), newCalibrate(), newMaterials(), newSchema())
	return root
}
