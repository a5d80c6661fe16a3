package main

import (
	"context"
	"errors"
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"wallshoal/cmd/wallshoal/job"
	"wallshoal/cmd/wallshoal/layoutfile"
	"wallshoal/cmd/wallshoal/press"
	"wallshoal/export/folder"
	"wallshoal/export/holemap"
	"wallshoal/export/stand"
	"wallshoal/export/tiling"
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
	since             []string
	order             string // the file for the order of work; empty for none
}

func newTemplate(d desk) *cobra.Command {
	var o templateOptions
	cmd := &cobra.Command{
		Use:   "template PLAN [-o hole-map.pdf]",
		Short: "write the hole map alone: key pages, and the sheets at full size",
		Long: `Write the hole map alone: key pages, and the sheets at full size, to print on the day the work is
hung. It is the one that pack writes of the same layout.

With --since it prints only the sheets whose holes differ from those of an older layout whose map was
printed the same way, on the same paper, and lists the sheets to throw away. Give the option once for
each layout whose sheets are still in use, the oldest first. The order of work in a pack names the sheets
and numbers of a map that is printed whole; --order writes the one that goes with the sheets on the wall.

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
	cmd.Flags().StringArrayVar(&o.since, "since", nil, "print only what differs from the sheets of the older layout in this `file`")
	cmd.Flags().StringVar(&o.order, "order", "", "write the order of work that goes with the sheets to this `file` as well")
	cmd.Flags().BoolVar(&o.replace, "replace", false, "write over a file that is there")
	return cmd
}

func (d desk) template(ctx context.Context, path string, o templateOptions) error {
	j, err := d.open(path)
	if err != nil {
		return err
	}
	print := o.measured.over(o.paper.over(j.Plan.Print))
	print.HolesOnly, print.Mirror = o.holesOnly, o.mirror
	layout, _, err := d.layoutOf(ctx, j, path, o.layout, o.seed)
	if err != nil {
		return err
	}
	w, err := j.Work(layout)
	if err != nil {
		return err
	}
	older, renumbered, err := d.older(j, o.since, &w)
	if err != nil {
		return err
	}
	cut, err := tiling.CutOf(w, print, older...)
	if err != nil {
		return err
	}
	changes := cut.Revision()
	p := press.Of(w, print, d.meter)
	put := folder.WriteFile
	if o.replace {
		put = folder.ReplaceFile
	}
	err = put(ctx, o.output, p.HoleMap(ctx, cut))
	if errors.Is(err, tiling.ErrNoChange) {
		fmt.Fprintln(d.out, "no sheet differs from those printed before; nothing was written")
		d.tellThrown(changes)
		return nil
	}
	if err != nil {
		return err
	}
	if o.order != "" {
		if err := d.orderOf(ctx, j, p, cut, o.order, put); err != nil {
			return err
		}
	}
	for _, warning := range p.Warnings {
		d.say(warning)
	}
	fmt.Fprintf(d.out, "wrote %s: %s, %s, fingerprint %s\n",
		o.output, counted(len(layout.Pieces), "piece"), counted(len(w.Map.Holes), "hole"), w.Map.Fingerprint)
	fmt.Fprintf(d.out, "print its %s on %s at 100 %%, and measure the check bars before you drill\n",
		counted(p.Pages[press.HoleMap], "page"), print.Paper.Name)
	if len(older) > 0 {
		fmt.Fprintf(d.out, "%s to print anew, %d to throw away, %d stay\n",
			counted(len(changes.Printed), "sheet"), len(changes.Thrown), len(changes.Staying))
		d.tellThrown(changes)
	}
	if renumbered {
		d.say("holes keep the numbers of the older map; those in the files of a pack of this layout are others, so write its order of work with --order")
	}
	return nil
}

// orderOf writes the order of work that goes with the sheets of a cut.
func (d desk) orderOf(ctx context.Context, j job.Job, p *press.Press, cut tiling.Cut, path string, put func(context.Context, string, func(io.Writer) error) error) error {
	stands, err := stand.Plan(p.Work, j.Plan.Install.Reach)
	if err != nil {
		return err
	}
	made, err := j.Making(p.Work, p.Pages[press.HoleMap], d.now())
	if err != nil {
		return err
	}
	if made.Work != nil {
		stands = stand.Timed(stands, p.Work.Kinds, *made.Work)
	}
	if err := put(ctx, path, p.Order(ctx, cut, stands)); err != nil {
		return err
	}
	fmt.Fprintf(d.out, "wrote %s: %s\n", path, counted(len(stands), "stand"))
	return nil
}

// older reads the layouts whose sheets were printed before, and gives the holes of each, and of w, the
// numbers that they had. It reports whether that changed any of w.
func (d desk) older(j job.Job, paths []string, w *holemap.Work) (older []holemap.Work, renumbered bool, err error) {
	for _, path := range paths {
		data, err := d.read(path, layoutfile.MaxBytes)
		if err != nil {
			return nil, false, err
		}
		layout, _, err := layoutfile.Read(path, data, j.Site, j.Plan.Kinds)
		if err != nil {
			return nil, false, err
		}
		o, err := j.Work(layout)
		if err != nil {
			return nil, false, err
		}
		if n := len(older); n > 0 {
			o.Map, _ = o.Map.NumberedAs(older[n-1].Map)
		}
		older = append(older, o)
	}
	if n := len(older); n > 0 {
		w.Map, renumbered = w.Map.NumberedAs(older[n-1].Map)
	}
	return older, renumbered, nil
}

// tellThrown lists the sheets that no longer belong on the wall.
func (d desk) tellThrown(r tiling.Revision) {
	for _, m := range r.Thrown {
		fmt.Fprintf(d.out, "throw away: %s of %s\n", m, m.Fingerprint)
	}
}
