package main

import (
	"context"
	"fmt"
	"os"

	"github.com/spf13/cobra"

	"wallshoal/cmd/wallshoal/easel"
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
	placed, taken, err := d.layoutOf(ctx, j, path, layout, seed)
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
// comes what was in the file. Where neither a layout nor a seed is named, and beside the plan lies a layout that
// hands had a part in, it does neither: whoever moved pieces and forgets to say so would drill for others.
func (d desk) layoutOf(ctx context.Context, j job.Job, plan, path string, seed seedFlag) (scatter.Layout, [][]byte, error) {
	if path == "" {
		if beside := layoutBeside(plan); beside != "" && !seed.given {
			return scatter.Layout{}, nil, fmt.Errorf("%q lies beside the plan, with pieces as they were placed by hand, and is not named; "+
				"add --layout %s to take it, or --seed %d to compose the work without it", beside, beside, j.Plan.Seed)
		}
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

// layoutBeside returns the path of the layout that the page saves beside a plan, if there is one.
func layoutBeside(plan string) string {
	if plan == "-" {
		return ""
	}
	beside := easel.LayoutBeside(plan)
	if _, err := os.Stat(beside); err != nil {
		return ""
	}
	return beside
}
