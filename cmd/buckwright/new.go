package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"buckwright/generate/store"
	"buckwright/params"
	"buckwright/templates"
)

func newNew() *cobra.Command {
	var template string
	var force bool
	cmd := &cobra.Command{
		Use:   "new FILE --template NAME",
		Short: "Write a commented starter kit; without a template, list them",
		Example: `  buckwright new
  buckwright new logger.yaml --template tide-logger`,
		Args: cobra.MaximumNArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			if template == "" {
				first, err := listStarters(cmd.OutOrStdout())
				if err == nil && len(args) > 0 {
					err = usage("buckwright new "+args[0]+" --template "+first, "no template is named, and nothing was written: choose one of those listed")
				}
				return err
			}
			if len(args) == 0 {
				return usage("buckwright new FILE --template "+template, "no file is named to write the kit to")
			}
			s, err := templates.FindStarter(template)
			if err != nil {
				return noStarter(err)
			}
			made, err := writeStarter(args[0], s, force)
			if err != nil {
				return err
			}
			for _, f := range made {
				fmt.Fprintln(cmd.OutOrStdout(), f)
			}
			if len(made) == 0 {
				fmt.Fprintf(cmd.OutOrStdout(), "%s is there already, and is this starter unchanged\n", args[0])
			}
			return nil
		},
	}
	cmd.Flags().StringVarP(&template, "template", "t", "", "starter kit to write")
	cmd.Flags().BoolVar(&force, "force", false, "replace files that are there")
	return cmd
}

// listStarters lists the templates and returns the name of the first.
func listStarters(w io.Writer) (first string, err error) {
	list, err := templates.Starters()
	if err != nil {
		return "", err
	}
	tw := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	for _, s := range list {
		fmt.Fprintf(tw, "%s\t%s\n", s.Name, s.Title)
	}
	return list[0].Name, tw.Flush()
}

func noStarter(err error) error {
	var unknown *params.UnknownRowError
	if errors.As(err, &unknown) {
		return usage("`buckwright new` lists the templates", "%v", err)
	}
	return err
}

// writeStarter writes a starter kit and the files it names, all or none. It
// returns the paths written; what is there already, byte for byte, is kept.
func writeStarter(file string, s templates.Starter, force bool) (made []string, err error) {
	all := []templates.File{{Name: file, Data: s.Kit}}
	for _, f := range s.Beside {
		all = append(all, templates.File{Name: filepath.Join(filepath.Dir(file), f.Name), Data: f.Data})
	}
	for _, f := range all {
		if info, err := os.Lstat(f.Name); err == nil && !(force && info.Mode().IsRegular()) && !sameFile(f) {
			return nil, inTheWay(f.Name, info)
		}
	}
	for i := len(all) - 1; i >= 0; i-- { // the kit last: with it everything is there
		if sameFile(all[i]) {
			continue
		}
		if err := writeWhole(all[i], force); err != nil {
			for _, f := range made {
				os.Remove(f)
			}
			return nil, badPath(&store.SystemError{Op: "write", Path: all[i].Name, Err: err}, "name a file in a folder that is there")
		}
		made = append(made, all[i].Name)
	}
	return made, nil
}

func inTheWay(name string, info os.FileInfo) error {
	if info.IsDir() {
		return usage("name a file in it: "+filepath.Join(name, "kit.yaml"), "%s is a folder", name)
	}
	return usage("name another file, or give --force to replace it", "%s is there already", name)
}

func sameFile(f templates.File) bool {
	info, err := os.Lstat(f.Name)
	if err != nil || !info.Mode().IsRegular() || info.Size() != int64(len(f.Data)) {
		return false
	}
	old, err := os.ReadFile(f.Name)
	return err == nil && string(old) == string(f.Data)
}

// writeWhole writes a file under a temporary name and then gives it its own,
// so that it is never seen half-written. Without force it never replaces one.
func writeWhole(f templates.File, force bool) (err error) {
	tmp, err := os.CreateTemp(filepath.Dir(f.Name), ".buckwright-*")
	if err != nil {
		return err
	}
	defer os.Remove(tmp.Name())
	if _, err = tmp.Write(f.Data); err == nil {
		err = errors.Join(tmp.Chmod(0o644), tmp.Sync())
	}
	if e := tmp.Close(); err == nil {
		err = e
	}
	if err != nil {
		return err
	}
	if force {
		return os.Rename(tmp.Name(), f.Name)
	}
	if _, err := os.Lstat(f.Name); err == nil {
		return fmt.Errorf("%s: %w", f.Name, os.ErrExist)
	}
	return os.Rename(tmp.Name(), f.Name)
}
