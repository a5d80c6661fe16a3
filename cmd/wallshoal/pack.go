package main

import (
	"context"
	"fmt"

	"github.com/spf13/cobra"

	"wallshoal/cmd/wallshoal/layoutfile"
	"wallshoal/scatter"
)

func newPack(d desk) *cobra.Command {
	var dir, layout string
	var seed seedFlag
	var paper paperFlag
	var measured measuredFlag
	cmd := &cobra.Command{
		Use:   "pack PLAN -o DIR",
		Short: "write the full-size templates, pictures and lists of a plan into a folder",
		Long: `Write the full-size templates, pictures and lists of a plan into a folder.

The folder appears all at once or not at all. One that an earlier pack wrote is replaced as a
whole; one in which anything else lies, or was changed, is left alone.`,
		Args: exactly("a plan"),
		RunE: func(cmd *cobra.Command, args []string) error {
			switch {
			case dir == "":
				return usageError{"pack needs a folder to write", "write: " + cmd.UseLine()}
			case layout != "" && seed.given:
				return usageError{"a layout that is read has a seed of its own", "give --seed or --layout, not both"}
			}
			return work(d.pack(cmd.Context(), args[0], dir, layout, seed, paper, measured))
		},
	}
	cmd.Flags().StringVarP(&dir, "output", "o", "", "the `folder` to write")
	cmd.Flags().StringVar(&layout, "layout", "", "draw the layout in this `file` instead of composing one")
	cmd.Flags().Var(&seed, "seed", seedUsage)
	cmd.Flags().Var(&paper, "paper", paperUsage)
	cmd.Flags().Var(&measured, "measured", measuredUsage)
	return cmd
}

func (d desk) pack(ctx context.Context, path, dir, layout string, seed seedFlag, paper paperFlag, measured measuredFlag) error {
	j, err := d.open(path)
	if err != nil {
		return err
	}
	j.plan.Print = measured.over(paper.over(j.plan.Print))
	placed, taken, err := d.layoutOf(ctx, j, layout, seed)
	if err != nil {
		return err
	}
	p, err := d.finish(ctx, j, placed, dir, taken...)
	if err != nil {
		return err
	}
	fmt.Fprintf(d.out, "wrote %s to %s: %s\n", counted(len(p.names), "file"), dir, p.counts())
	d.tellWhatIsNext(p, dir)
	return nil
}

// layoutOf reads the layout in a file where one is named, and composes one where none is. With it
// comes what was in the file.
func (d desk) layoutOf(ctx context.Context, j job, path string, seed seedFlag) (scatter.Layout, [][]byte, error) {
	if path == "" {
		layout, err := j.lay(ctx, seed.or(j.plan.Seed), d.meter)
		return layout, nil, err
	}
	data, err := d.read(path, layoutfile.MaxBytes)
	if err != nil {
		return scatter.Layout{}, nil, err
	}
	layout, lines, err := layoutfile.Read(path, data, j.site, j.plan.Kinds)
	if err != nil {
		return scatter.Layout{}, nil, err
	}
	return layout, [][]byte{data}, d.inspect(j, path, layout, lines)
}
