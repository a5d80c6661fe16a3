package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strings"
	"sync"
	"text/tabwriter"
	"unicode/utf8"

	"github.com/spf13/cobra"

	"wallshoal/cmd/wallshoal/job"
	"wallshoal/cmd/wallshoal/yamlfile"
	"wallshoal/export/caution"
	"wallshoal/export/draw"
	"wallshoal/export/scope"
	"wallshoal/export/template"
	"wallshoal/export/tiling"
	"wallshoal/scatter"
	"wallshoal/wall/measure"
	"wallshoal/wall/plane"
)

func newCheck(d desk) *cobra.Command {
	var asJSON bool
	cmd := &cobra.Command{
		Use:   "check PLAN",
		Short: "say what is wrong with a plan, or what it promises",
		Long: `Say everything that is wrong with a plan, or what it promises: the area of every wall, how much
of it is free, how many pieces and holes there will be, how many there is room for, and what to be
careful of. Nothing is written.`,
		Args: exactly("a plan"),
		RunE: func(cmd *cobra.Command, args []string) error {
			if asJSON {
				return work(d.checkJSON(cmd.Context(), args[0]))
			}
			return work(d.check(cmd.Context(), args[0]))
		},
	}
	cmd.Flags().BoolVar(&asJSON, "json", false, "say it in JSON")
	return cmd
}

// A promise is what a plan comes to.
type promise struct {
	job.Job
	room    []scatter.FaceCapacity // known of every plan that can be read, even where not all pieces fit
	scope   scope.Scope
	sheets  int // of the hole map
	notes   []string
	options []optionJSON
}

// promise composes the plan and counts what comes of it, and beside that what there is room for.
func (d desk) promise(ctx context.Context, path string) (promise, error) {
	j, err := d.open(path)
	if err != nil {
		return promise{}, err
	}
	p := promise{Job: j}
	var uncounted error
	var counting sync.WaitGroup
	counting.Go(func() {
		p.room, uncounted = scatter.Capacity(ctx, j.Site, j.Plan.Kinds, j.Plan.Composition, j.Plan.Seed)
	})
	scoped, sheets, err := d.scope(ctx, j)
	counting.Wait()
	if err != nil {
		return p, err
	}
	p.scope, p.sheets, p.notes = scoped, sheets, append(j.Notes(), j.Unmet(scoped.Cautions)...)
	if beside := layoutBeside(path); beside != "" {
		p.notes = append(p.notes, beside+" lies beside the plan: what is said here is of the work composed anew, without it")
	}
	if uncounted == nil {
		p.options, uncounted = options(ctx, j, scoped)
	}
	return p, uncounted
}

// options composes the options of the plan, of which the plan as it is written is counted already. Where
// not all pieces of one fit, that is a fault of the option.
func options(ctx context.Context, j job.Job, planned scope.Scope) ([]optionJSON, error) {
	found := make([]optionJSON, len(j.Plan.Options))
	err := j.EachOption(func(i int) error {
		o := j.Plan.Options[i]
		found[i] = optionJSON{o.Name, planned.Pieces, planned.Holes}
		if len(o.Changes) == 0 {
			return nil
		}
		own, layout, err := j.LayOption(ctx, i, j.Plan.Seed)
		if err != nil {
			return err
		}
		found[i].Pieces, found[i].Holes = len(layout.Pieces), 0
		for _, p := range layout.Pieces {
			found[i].Holes += len(own.Plan.Kinds[p.Kind].Holes)
		}
		return nil
	})
	return found, err
}

// scope composes the plan and counts what comes of it, and the sheets of its hole map.
func (d desk) scope(ctx context.Context, j job.Job) (s scope.Scope, pages int, err error) {
	layout, err := d.compose(ctx, j, j.Plan.Seed)
	if err != nil {
		return scope.Scope{}, 0, err
	}
	w, err := j.Work(layout)
	if err != nil {
		return scope.Scope{}, 0, err
	}
	if s, err = scope.Of(w); err != nil {
		return scope.Scope{}, 0, err
	}
	found, err := scatter.Appraise(ctx, j.Site, j.Plan.Kinds, j.Plan.Composition, layout)
	if err != nil {
		return scope.Scope{}, 0, err
	}
	cut, err := tiling.CutOf(w, j.Plan.Print)
	if err != nil {
		return scope.Scope{}, 0, err
	}
	pages, err = sheets(cut)
	return s.Appraised(j.Plan.Composition, found), pages, err
}

func (d desk) check(ctx context.Context, path string) error {
	p, err := d.promise(ctx, path)
	var short *scatter.ShortfallError
	if errors.As(err, &short) {
		if err := d.tellRoom(p); err != nil {
			return err
		}
	}
	if err != nil {
		return err
	}
	s := p.scope
	fmt.Fprintf(d.out, "%s: no fault found; all %s fit, with %s\n\n", path, counted(s.Pieces, "piece"), counted(s.Holes, "hole"))
	if err := writeFaces(d.out, s.Faces, p.Plan.Units); err != nil {
		return err
	}
	fmt.Fprintln(d.out)
	if err := d.tellRoom(p); err != nil {
		return err
	}
	fmt.Fprintf(d.out, "\nthe hole map takes %s of %s, keys included\n", counted(p.sheets, "sheet"), p.Plan.Print.Paper.Name)
	for _, o := range p.options {
		fmt.Fprintf(d.out, "option %s: all %s fit, with %s\n", o.Name, counted(o.Pieces, "piece"), counted(o.Holes, "hole"))
	}
	if len(s.BurnTable(p.Plan.Units).Rows) > 0 {
		fmt.Fprintln(d.out)
		for _, b := range s.Burns {
			fmt.Fprintf(d.out, "pieces that burn cover %.1f %% of %s; the limit set is %.1f %%\n", 100*b.Share, b.Wall, 100*b.Limit)
		}
	}
	for _, n := range p.notes {
		fmt.Fprintf(d.out, "\n%s", indented("to look at: "+n))
	}
	for _, c := range s.Cautions {
		severity := c.Severity
		if c.Acknowledged != nil {
			severity += ", acknowledged"
		}
		fmt.Fprintf(d.out, "\n%s: %s, %s (%s)\n%s", severity, c.Code, place(c), concerned(c), indented(strings.TrimSuffix(c.Text, caution.Standing)))
	}
	if len(s.Cautions) > 0 {
		fmt.Fprintf(d.out, "\n%s", indented(standing))
	}
	return nil
}

// sheets returns how many sheets of paper the hole map of a work takes, its keys included.
func sheets(cut tiling.Cut) (int, error) {
	var c counter
	err := template.HoleMap(&c, cut)
	return c.pages, err
}

// A counter is a canvas on which nothing is drawn: it counts its pages.
type counter struct{ pages int }

func (c *counter) Page(_, _ float64)                           { c.pages++ }
func (*counter) Line(_, _ plane.Point, _ draw.Stroke)          {}
func (*counter) Polyline(_ []plane.Point, _ draw.Stroke)       {}
func (*counter) Polygon(_ []plane.Ring, _ draw.Paint)          {}
func (*counter) Circle(_ plane.Point, _ float64, _ draw.Paint) {}
func (*counter) Text(draw.Text)                                {}
func (*counter) Image(plane.Rect, []byte)                      {}
func (*counter) Group(string)                                  {}
func (*counter) End()                                          {}
func (*counter) Clip(...plane.Ring)                            {}
func (*counter) Unclip()                                       {}

func writeFaces(out io.Writer, faces []scope.Face, units measure.Unit) error {
	t := tabwriter.NewWriter(out, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(t, "area\tfree\tpieces\tholes\t  wall")
	for _, f := range faces {
		fmt.Fprintf(t, "%s\t%s\t%d\t%d\t  %s, %s\n", scope.Area(f.Area, units), scope.Area(f.Free, units), f.Pieces, f.Holes, f.Wall, f.Face)
	}
	return t.Flush()
}

// place says of which part of the room a caution speaks.
func place(c scope.Caution) string {
	if c.Face == "" {
		return c.Wall
	}
	return c.Wall + ", " + c.Face
}

// concerned says of how many pieces and holes a caution speaks.
func concerned(c scope.Caution) string {
	return counted(c.Pieces, "piece") + ", " + counted(c.Holes, "hole")
}

// standing is what holds of every caution.
const standing = "Each of these is a usual caution, not clearance: local codes and licensed trades decide."

// indented returns text as lines of at most 92 characters, each set in by two spaces.
func indented(text string) string {
	const most = 92
	var b strings.Builder
	room := 0
	for _, word := range strings.Fields(text) {
		n := utf8.RuneCountInString(word)
		switch {
		case b.Len() == 0:
			b.WriteString("  ")
			room = most - 2
		case n+1 > room:
			b.WriteString("\n  ")
			room = most - 2
		default:
			b.WriteByte(' ')
			room--
		}
		b.WriteString(word)
		room -= n
	}
	return b.String() + "\n"
}

// A verdict is what check says in JSON.
type verdict struct {
	Plan   string       `json:"plan"`
	Good   bool         `json:"good"`
	Faults []fault      `json:"faults"`
	Asked  *int         `json:"asked"`  // pieces; null unless too few fit
	Fit    *int         `json:"fit"`    // about how many do; null unless too few fit
	Room   *roomJSON    `json:"room"`   // what there is room for; null where the plan cannot be read
	Notes  []string     `json:"notes"`  // what may be a slip
	Sheets *int         `json:"sheets"` // of the hole map; null unless the plan is good
	Scope  *scope.Scope `json:"scope"`  // null unless the plan is good

	Options []optionJSON `json:"options,omitempty"` // left out where the plan has none, or is not good
}

// An optionJSON is what one option of a plan comes to.
type optionJSON struct {
	Name   string `json:"name"`
	Pieces int    `json:"pieces"`
	Holes  int    `json:"holes"`
}

// A fault is one thing wrong with a plan.
type fault struct {
	Line  int    `json:"line"` // 0 where it is of no one line
	Field string `json:"field"`
	Wrong string `json:"wrong"`
	Fix   string `json:"fix"`
}

// checkJSON is check for programs: what is wrong with the plan is part of what it says, and the
// exit status tells whether anything is.
func (d desk) checkJSON(ctx context.Context, path string) error {
	p, err := d.promise(ctx, path)
	v := verdict{Plan: path, Good: err == nil, Faults: []fault{}, Room: p.roomJSON(), Notes: []string{}}
	var faults yamlfile.Faults
	var short *scatter.ShortfallError
	if errors.As(err, &short) {
		v.Asked, v.Fit = &short.Asked, &short.Fit
	}
	switch {
	case err == nil:
		v.Scope, v.Sheets, v.Options = &p.scope, &p.sheets, p.options
		v.Notes = append(v.Notes, p.notes...)
	case errors.As(err, &faults):
		for _, f := range faults {
			v.Faults = append(v.Faults, fault{f.Line, f.Field, f.Wrong, f.Fix})
		}
	default:
		return err
	}
	if err := writeJSON(d.out, v); err != nil {
		return err
	}
	if !v.Good {
		return errSaid
	}
	return nil
}

// errSaid is an error of which everything has been said already.
var errSaid = errors.New("the plan is at fault")

// writeJSON writes v, indented, in a form that keeps names readable.
func writeJSON(out io.Writer, v any) error {
	e := json.NewEncoder(out)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(v)
}
