package main

import (
	"context"
	"fmt"

	"github.com/spf13/cobra"

	"wallshoal/export/folder"
	"wallshoal/export/sheet"
)

const (
	holesOnlyUsage = "leave the pieces off the sheets: crosses, numbers and what hangs the sheets remain"
	mirrorUsage    = "mirror the sheets, for working from behind or on tracing paper face down; words still read"
)

// A templateOptions says which hole map is written, and where.
type templateOptions struct {
	output, layout    string
	seed              seedFlag
	paper             paperFlag
	measured          measuredFlag
	holesOnly, mirror bool
	replace           bool
}

func newTemplate(d desk) *cobra.Command {
	var o templateOptions
	cmd := &cobra.Command{
		Use:   "template PLAN [-o hole-map.pdf]",
		Short: "write the hole map alone: key pages, and the sheets at full size",
		Long: `Write the hole map alone: key pages, and the sheets at full size, to print on the day the work is
hung. It is the one that pack writes of the same layout.

A file that is there already is written over only with --replace.`,
		Args: exactly("a plan"),
		RunE: func(cmd *cobra.Command, args []string) error {
			if o.layout != "" && o.seed.given {
				return usageError{"a layout that is read has a seed of its own", "give --seed or --layout, not both"}
			}
			return work(d.template(cmd.Context(), args[0], o))
		},
	}
	cmd.Flags().StringVarP(&o.output, "output", "o", "hole-map.pdf", "the `file` to write")
	cmd.Flags().StringVar(&o.layout, "layout", "", "draw the layout in this `file` instead of composing one")
	cmd.Flags().Var(&o.seed, "seed", seedUsage)
	cmd.Flags().Var(&o.paper, "paper", paperUsage)
	cmd.Flags().Var(&o.measured, "measured", measuredUsage)
	cmd.Flags().BoolVar(&o.holesOnly, "holes-only", false, holesOnlyUsage)
	cmd.Flags().BoolVar(&o.mirror, "mirror", false, mirrorUsage)
	cmd.Flags().BoolVar(&o.replace, "replace", false, "write over a file that is there")
	return cmd
}

func (d desk) template(ctx context.Context, path string, o templateOptions) error {
	j, err := d.open(path)
	if err != nil {
		return err
	}
	print := o.measured.over(o.paper.over(j.plan.Print))
	print.HolesOnly, print.Mirror = o.holesOnly, o.mirror
	layout, _, err := d.layoutOf(ctx, j, o.layout, o.seed)
	if err != nil {
		return err
	}
	w, err := j.work(layout)
	if err != nil {
		return err
	}
	p := &press{work: w, print: print, meter: d.meter, pages: map[string]int{}}
	put := folder.WriteFile
	if o.replace {
		put = folder.ReplaceFile
	}
	if err := put(ctx, o.output, p.pdf(ctx, holeMap, sheet.HoleMap)); err != nil {
		return err
	}
	for _, warning := range p.warnings {
		d.say(warning)
	}
	fmt.Fprintf(d.out, "wrote %s: %s, %s, fingerprint %s\n",
		o.output, counted(len(layout.Pieces), "piece"), counted(len(w.Map.Holes), "hole"), w.Map.Fingerprint)
	fmt.Fprintf(d.out, "print its %s on %s at 100 %%, and measure the check bars before you drill\n",
		counted(p.pages[holeMap], "sheet"), print.Paper.Name)
	return nil
}
