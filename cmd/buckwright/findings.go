package main

import (
	"fmt"
	"io"
	"strings"

	"buckwright/generate/check"
)

// stopped turns findings into the exit status.
func stopped(all []check.Finding, err error) error {
	if err != nil || !check.Stops(all) {
		return err
	}
	n := 0
	for _, f := range all {
		if f.Severity == check.Stop {
			n++
		}
	}
	return exitError{exitStop, fmt.Errorf("%d of %d findings say stop", n, len(all))}
}

func printFindings(w io.Writer, all []check.Finding) {
	for _, f := range all {
		where := f.Where
		if where != "" {
			where += ": "
		}
		fmt.Fprintf(w, "%s: %s: %s%s, limit %s\n  %s\n  fix: %s\n  source: %s\n", f.Severity, f.ID, where, f.Value, f.LimitText,
			strings.TrimSuffix(f.Title, "."), f.Fix, f.Source)
	}
}
