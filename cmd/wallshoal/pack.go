package main

import (
	"context"
	"fmt"

	"github.com/spf13/cobra"

	"wallshoal/cmd/wallshoal/job"
	"wallshoal/cmd/wallshoal/layoutfile"
	"wallshoal/export/tiling"
	"wallshoal/scatter"
)

func newPack(d desk) *cobra.Command {
	var dir, layout string
	var seed seedFlag
	var paper paperFlag
	var measured measuredFlag
	var holesOnly, mirror bool
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
			over := func(p tiling.Print) tiling.Print {
				p.HolesOnly, p.Mirror = holesOnly, mirror
				return measured.over(paper.over(p))
			}
			return work(d.pack(cmd.Context(), args[0], dir, layout, seed, over))
		},
	}
	cmd.Flags().StringVarP(&dir, "output", "o", "", "the `folder` to write")
	cmd.Flags().StringVar(&layout, "layout", "", "draw the layout in this `file` instead of composing one")
	cmd.Flags().Var(&seed, "seed", seedUsage)
	cmd.Flags().Var(&paper, "paper", paperUsage)
	cmd.Flags().Var(&measured, "measured", measuredUsage)
	cmd.Flags().BoolVar(&holesOnly, "holes-only", false, holesOnlyUsage)
	cmd.Flags().BoolVar(&mirror, "mirror", false, mirrorUsage)
	return cmd
}

// pack writes a pack of a plan, printed as over makes of how the plan asks to be printed.
func (d desk) pack(ctx context.Context, path, dir, layout string, seed seedFlag, over func(tiling.Print) tiling.Print) error {
	j, err := d.open(path)
	if err != nil {
		return err
	}
	j.Plan.Print = over(j.Plan.Print)
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
func (d desk) layoutOf(ctx context.Context, j job.Job, path string, seed seedFlag) (scatter.Layout, [][]byte, error) {
	if path == "" {
		layout, err := d.compose(ctx, j, seed.or(j.Plan.Seed))
		return layout, nil, err
	}
	data, err := d.read(path, layoutfile.MaxBytes)
	if err != nil {
		return scatter.Layout{}, nil, err
	}
	layout, lines, err := layoutfile.Read(path, data, j.Site, j.Plan.Kinds)
	if err != nil {
		return scatter.Layout{}, nil, err
	}
	return layout, [][]byte{data}, d.inspect(j, path, layout, lines)
}
