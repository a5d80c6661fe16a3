package main

import (
	"context"
	_ "embed"
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"wallshoal/export/folder"
)

// starter is the plan that new writes.
//
//go:embed starter.yaml
var starter string

func newNew(d desk) *cobra.Command {
	return &cobra.Command{
		Use:   "new FILE",
		Short: "write a plan to start from, with a word on every line",
		Long:  "Write a plan to start from, with a word on every line. It packs as it is. A file that is there\nalready is never written over.",
		Args:  exactly("a file to write"),
		RunE:  func(cmd *cobra.Command, args []string) error { return work(d.begin(cmd.Context(), args[0])) },
	}
}

func (d desk) begin(ctx context.Context, path string) error {
	if err := folder.WriteFile(ctx, path, text(starter)); err != nil {
		return err
	}
	fmt.Fprintf(d.out, "wrote %s\nnext: wallshoal pack %s -o pack\n", path, path)
	return nil
}

// text returns a function that writes s.
func text(s string) func(io.Writer) error {
	return func(w io.Writer) error {
		_, err := io.WriteString(w, s)
		return err
	}
}
