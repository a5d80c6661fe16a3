package main

import (
	"context"
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"wallshoal/cmd/wallshoal/hanging"
	"wallshoal/export/folder"
	"wallshoal/export/holemap"
	"wallshoal/export/makinggood"
	"wallshoal/wall/measure"
)

type takeDownOptions struct {
	layout, output string
	hung           string // the progress file
	seed           seedFlag
	asJSON         bool
	waste          float64
	touchUp        lengthFlag
}

func newTakeDown(d desk) *cobra.Command {
	var o takeDownOptions
	cmd := &cobra.Command{
		Use:   "take-down PLAN",
		Short: "list what making the walls good takes once the work comes down",
		Long: `List what making the walls good takes once the work comes down: the holes by wall, bit and depth,
the filler for them, the paint to touch up or to do again, and the fixings and pieces that come off.
Give the layout that hangs with --layout, where it was moved by hand.`,
		Args: exactly("a plan"),
		RunE: func(cmd *cobra.Command, args []string) error {
			if o.layout != "" && o.seed.given {
				return usageError{"a layout that is read has a seed of its own", "give --seed or --layout, not both"}
			}
			return work(d.takeDown(cmd.Context(), args[0], o))
		},
	}
	usual := makinggood.Usual()
	inches := makinggood.UsualIn(measure.Inch)
	cmd.Flags().StringVar(&o.layout, "layout", "", "take down the layout in this `file` instead of composing one")
	cmd.Flags().StringVar(&o.hung, "progress", "", "count the holes of pieces that hung elsewhere before, by this `file`, in which view keeps what hangs")
	cmd.Flags().StringVarP(&o.output, "output", "o", "", "the `file` to write")
	cmd.Flags().Var(&o.seed, "seed", seedUsage)
	cmd.Flags().BoolVar(&o.asJSON, "json", false, "write it as JSON, for programs")
	cmd.Flags().Float64Var(&o.waste, "waste", 100*usual.Waste, "filler that is wasted, in `percent` of what the holes hold")
	cmd.Flags().Var(&o.touchUp, "touch-up", fmt.Sprintf("diameter of the circle of paint over each hole, a `length` like 40mm or 1.5in (default %s, or %s for a plan in inches or feet)",
		measure.Precise(usual.TouchUp, measure.Millimetre), measure.Precise(inches.TouchUp, measure.Inch)))
	return cmd
}

func (d desk) takeDown(ctx context.Context, path string, o takeDownOptions) error {
	j, err := d.open(path)
	if err != nil {
		return err
	}
	layout, _, err := d.layoutOf(ctx, j, path, o.layout, o.seed)
	if err != nil {
		return err
	}
	w, err := j.Work(layout)
	if err != nil {
		return err
	}
	earlier, err := d.earlierHoles(w, o.hung)
	if err != nil {
		return err
	}
	list, err := makinggood.Of(w, makinggood.Settings{Earlier: earlier, Waste: o.waste / 100, TouchUp: o.touchUp.or(makinggood.UsualIn(w.Units).TouchUp)})
	if err != nil {
		return err
	}
	write := func(out io.Writer) error { return makinggood.WriteMarkdown(out, list) }
	if o.asJSON {
		write = func(out io.Writer) error { return makinggood.WriteJSON(out, list) }
	}
	if o.output == "" {
		return write(d.out)
	}
	if err := folder.WriteFile(ctx, o.output, write); err != nil {
		return err
	}
	fmt.Fprintf(d.out, "wrote %s: %s to fill\n", o.output, counted(list.Holes, "hole"))
	return nil
}

// earlierHoles returns the holes that a work has not and in which pieces hang or hung, by a progress file.
func (d desk) earlierHoles(w holemap.Work, path string) ([]holemap.Hole, error) {
	record, err := d.record(path)
	if err != nil {
		return nil, err
	}
	hung := hanging.Of(w, record)
	var holes []holemap.Hole
	unknown := 0
	for _, m := range slices.Concat(hung.Moved, hung.Left) {
		if holes = append(holes, m.Drilled...); len(m.Drilled) == 0 {
			unknown++
		}
	}
	if unknown > 0 {
		d.say(fmt.Sprintf("nobody can say where %s hung by an earlier layout: those holes are not counted", counted(unknown, "piece")))
	}
	return holes, nil
}

// A lengthFlag is a length given on the command line, in mm where it has no unit; or none.
type lengthFlag struct {
	mm    float64
	given bool
}

// Set implements pflag.Value.
func (f *lengthFlag) Set(text string) error {
	mm, err := measure.Parse(strings.TrimSpace(text), measure.Millimetre)
	if err != nil {
		return fmt.Errorf("%q is not a length; write it like 40mm or 1.5in", text)
	}
	*f = lengthFlag{mm, true}
	return nil
}

// String implements pflag.Value.
func (f *lengthFlag) String() string {
	if !f.given {
		return ""
	}
	return measure.Precise(f.mm, measure.Millimetre)
}

// Type implements pflag.Value.
func (f *lengthFlag) Type() string { return "length" }

// or returns the length, or another where none is given.
func (f lengthFlag) or(other float64) float64 {
	if f.given {
		return f.mm
	}
	return other
}
