package main

import (
	"encoding/json"
	"io"

	"github.com/spf13/cobra"

	"buckwright/params"
)

func newSchema() *cobra.Command {
	return &cobra.Command{
		Use:     "schema",
		Short:   "Print the JSON Schema of the kit file, for editors",
		Example: "  buckwright schema > kit.schema.json",
		Args:    cobra.NoArgs,
		RunE: func(cmd *cobra.Command, args []string) error {
			return printJSON(cmd.OutOrStdout(), params.Schema())
		},
	}
}

// printJSON writes v indented, with characters as they are.
func printJSON(w io.Writer, v any) error {
	enc := json.NewEncoder(w)
	enc.SetIndent("", "  ")
	enc.SetEscapeHTML(false)
	return enc.Encode(v)
}
