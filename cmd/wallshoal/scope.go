package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"wallshoal/cmd/wallshoal/job"
	"wallshoal/cmd/wallshoal/press"
	"wallshoal/export/calendar"
	"wallshoal/export/cost"
	"wallshoal/export/decimal"
	"wallshoal/export/folder"
	"wallshoal/export/making"
	"wallshoal/export/scope"
	"wallshoal/scatter"
	"wallshoal/wall"
)

type scopeOptions struct {
	layout, dir, against string
	seed                 seedFlag
	asJSON               bool
	fit                  fitFlag
}

func newScope(d desk) *cobra.Command {
	var o scopeOptions
	cmd := &cobra.Command{
		Use:   "scope PLAN",
		Short: "say what a work takes: holes, pieces, sheets, materials, hours, days and money",
		Long: `Say what a work takes: holes and pieces, and what the plan says of making them under sheets:,
materials:, hours:, calendar: and cost:. With -o it is written into a folder, with the chart of the
days, a file for calendar programs, and drawings to cut the sheets by.

With --fit it says the most pieces that a budget and a date allow, and what binds. With --against
an earlier scope.json it says what changed since.`,
		Args: exactly("a plan"),
		RunE: func(cmd *cobra.Command, args []string) error {
			switch {
			case o.layout != "" && o.seed.given:
				return usageError{"a layout that is read has a seed of its own", "give --seed or --layout, not both"}
			case o.against != "" && (o.fit.given() || o.dir != "" || o.asJSON):
				return usageError{"--against says what changed, and nothing else", "leave out --fit, --json and -o"}
			case o.fit.given() && (o.dir != "" || o.asJSON):
				return usageError{"--fit says how many pieces fit, and writes nothing", "leave out --json and -o"}
			}
			return work(d.tellScope(cmd.Context(), args[0], o))
		},
	}
	cmd.Flags().StringVarP(&o.dir, "output", "o", "", "the `folder` to write")
	cmd.Flags().StringVar(&o.layout, "layout", "", "count the layout in this `file` instead of composing one")
	cmd.Flags().Var(&o.seed, "seed", seedUsage)
	cmd.Flags().BoolVar(&o.asJSON, "json", false, "say it in JSON")
	cmd.Flags().Var(&o.fit, "fit", "say the most pieces that fit a `limit`: budget=4200 or install=2027-03-12; give both if both count")
	cmd.Flags().StringVar(&o.against, "against", "", "say what changed since this `scope.json`")
	return cmd
}

func (d desk) tellScope(ctx context.Context, path string, o scopeOptions) error {
	var before scope.Scope
	if o.against != "" {
		data, err := d.read(o.against, scope.MaxBytes)
		if err != nil {
			return err
		}
		if before, err = scope.Read(o.against, data); err != nil {
			return err
		}
	}
	j, err := d.open(path)
	if err != nil {
		return err
	}
	layout, taken, err := d.layoutOf(ctx, j, path, o.layout, o.seed)
	if err != nil {
		return err
	}
	p, err := d.press(ctx, j, layout)
	if err != nil {
		return err
	}
	if o.fit.given() {
		return d.tellFit(ctx, j, p.Made, o.fit)
	}
	if p.Made.Unscheduled != nil {
		return j.Located(p.Made.Unscheduled)
	}
	if o.against == "" {
		if err := p.Beside(ctx, j, d.now()); err != nil {
			return err
		}
	}
	switch {
	case o.against != "":
		now, err := p.Scoped()
		if err != nil {
			return err
		}
		return scope.WriteChanges(d.out, scope.Compare(before, now))
	case o.dir != "":
		if _, err := os.Lstat(filepath.Join(o.dir, press.HoleMapFile)); err == nil {
			return fmt.Errorf("%q holds a pack, and would hold the scope alone; name another folder, or pack again, which writes the scope as well", o.dir)
		}
		list := append(p.ScopeFiles(ctx), slices.Concat(p.MakingFiles(ctx), p.OptionFiles())...)
		if err := folder.Write(ctx, o.dir, list, taken...); err != nil {
			return err
		}
		for _, warning := range p.Warnings {
			d.say(warning)
		}
		d.sayUnmet(p.Work)
		fmt.Fprintf(d.out, "wrote %s to %s: read %s\n", counted(len(list), "file"), o.dir, filepath.Join(o.dir, "scope.md"))
		return nil
	}
	files := p.ScopeFiles(ctx)
	if o.asJSON {
		return files[0].Write(d.out)
	}
	return files[1].Write(d.out)
}

// tellFit says the most pieces that meet what is wanted.
func (d desk) tellFit(ctx context.Context, j job.Job, m making.Making, f fitFlag) error {
	room, err := scatter.Capacity(ctx, j.Site, j.Plan.Kinds, j.Plan.Composition, j.Plan.Seed)
	if err != nil {
		return err
	}
	here := 0
	for _, n := range m.Placed {
		here += n
	}
	w := making.Wanted{Most: max(here, room[len(room)-1].Least), Budget: f.budget, By: f.install}
	w.High = m.Asked.Cost != nil && m.Asked.Cost.High
	fitted, err := m.Fit(w)
	var p wall.Problem
	if errors.As(err, &p) {
		return fmt.Errorf("%s: %s; %s", p.Field, p.Wrong, p.Fix)
	}
	if err != nil {
		return err
	}
	if fitted.Binds[0] == cost.Room {
		fmt.Fprintf(d.out, "%d pieces fit; there is no sure room for more.\n", fitted.Pieces)
	} else {
		fmt.Fprintln(d.out, fitted)
	}
	fmt.Fprintf(d.out, "The plan has %d.\n", here)
	if w.High && w.Budget != nil {
		fmt.Fprintln(d.out, "The budget holds at the high end of the cost.")
	}
	if c := m.Asked.Cost; c != nil {
		show := c.Currency.Show
		fmt.Fprintf(d.out, "So many cost %s, or from %s to %s.\n", show(fitted.Cost.Likely), show(fitted.Cost.Low), show(fitted.Cost.High))
	}
	switch {
	case m.Asked.Hours == nil || m.Calendar == nil:
	case fitted.Finish >= making.Never(m.Calendar.From):
		fmt.Fprintln(d.out, "They are not done within ten years.")
	default:
		fmt.Fprintf(d.out, "They are done on %s, where work can begin on %s.\n", fitted.Finish.Words(), m.Calendar.From.Words())
	}
	for _, missing := range m.Missing {
		fmt.Fprintf(d.out, "to be given: %s\n", missing)
	}
	fmt.Fprint(d.out, indented("Kinds, sheets and spares are taken in the proportions of this layout, on the same faces, at the expected hours."))
	return nil
}

// A fitFlag is what a work is to meet, given on the command line.
type fitFlag struct {
	budget  *decimal.Number
	install *calendar.Day
}

func (f *fitFlag) given() bool { return f.budget != nil || f.install != nil }

// Set implements pflag.Value.
func (f *fitFlag) Set(text string) error {
	key, value, _ := strings.Cut(text, "=")
	switch key {
	case "budget":
		n, err := decimal.Parse(value)
		if err != nil || n.Sign() < 0 {
			return fmt.Errorf("%q is not a sum of money; write it like budget=4200 or budget=4199.50", value)
		}
		f.budget = &n
	case "install":
		t, err := time.Parse(time.DateOnly, value)
		if err != nil {
			return fmt.Errorf("%q is not a date; write year, month and day, like install=2027-03-12", value)
		}
		f.install = new(calendar.DayOf(t))
	default:
		return fmt.Errorf("%q is not a limit; write budget=4200 or install=2027-03-12", text)
	}
	return nil
}

// String implements pflag.Value.
func (f *fitFlag) String() string {
	var said []string
	if f.budget != nil {
		said = append(said, "budget="+f.budget.String())
	}
	if f.install != nil {
		said = append(said, "install="+f.install.String())
	}
	return strings.Join(said, " ")
}

// Type implements pflag.Value.
func (f *fitFlag) Type() string { return "limit" }
