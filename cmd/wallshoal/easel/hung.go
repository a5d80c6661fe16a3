package easel

import (
	"cmp"
	"context"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"wallshoal/cmd/wallshoal/hanging"
	"wallshoal/cmd/wallshoal/job"
	"wallshoal/cmd/wallshoal/layoutfile"
	"wallshoal/cmd/wallshoal/progress"
	"wallshoal/export/number"
	"wallshoal/scatter"
)

// ProgressBeside returns where it is kept which pieces of a plan hang.
func ProgressBeside(path string) string {
	return strings.TrimSuffix(path, filepath.Ext(path)) + ".progress"
}

// A HangsError says that a change would take pieces down that hang.
type HangsError struct {
	Pieces []int // their IDs, ascending
	Fill   int   // holes that are drilled and would be filled
	Drill  int   // holes that would be drilled in their place
}

// Error says which pieces hang, and what the change means at the wall.
func (e *HangsError) Error() string {
	verb, them := "hangs", "it"
	if len(e.Pieces) > 1 {
		verb, them = "hang", "them"
	}
	what := []string{"take " + them + " down"}
	if e.Fill > 0 {
		what = append(what, "fill "+number.Of(e.Fill, "hole"))
	}
	switch {
	case e.Drill > 0:
		what = append(what, fmt.Sprintf("drill %d new", e.Drill))
	case e.Fill == 0:
		what = append(what, "hang "+them+" again otherwise, in the same holes")
	}
	return fmt.Sprintf("%s %s: this means %s", number.Runs(e.Pieces), verb, strings.Join(what, ", "))
}

// record returns what the progress file says now: nothing where nothing was ever ticked.
func (e *Easel) record() (progress.Record, error) {
	data, err := contentsOf(e.progressPath, progress.MaxBytes)
	if err != nil || data == nil {
		return progress.Record{}, err
	}
	return progress.Read(filepath.Base(e.progressPath), data)
}

// hanging returns what hangs of the work that is shown.
func (e *Easel) hanging() (hanging.Hanging, error) {
	record, err := e.record()
	if err != nil || len(record.Up)+len(record.Left) == 0 {
		return hanging.Hanging{}, err
	}
	return hanging.Of(e.shown.Work, record), nil
}

// layFirst lays a plan that has no layout yet: round what hangs, where that would come to hang elsewhere. It reports whether it did.
func (e *Easel) layFirst(ctx context.Context, j job.Job) (layout scatter.Layout, round bool, err error) {
	record, unread := e.record()
	layout, err = j.LayFrom(ctx, scatter.Start{}, j.Plan.Seed, nil)
	if unread != nil || len(record.Up) == 0 { // what cannot be read is told of when somebody ticks, or changes something
		return layout, false, err
	}
	hung, missing := hanging.Put(j, nil, record)
	if missing != nil {
		return layout, false, missing
	}
	if err == nil {
		stands, missing := hanging.Put(j, layout.Pieces, record)
		if missing == nil && slices.Equal(stands.Pieces, layout.Pieces) && len(stands.Held) >= len(hung.Held) {
			return layout, false, nil
		}
	}
	layout, err = j.LayFrom(ctx, scatter.Start{Kept: hung.Pieces}, j.Plan.Seed, nil)
	return layout, true, err
}

// readLayout reads what the layout's file holds as a layout of a plan. What lies off its wall since the plan was changed is read, and found to be so.
func (e *Easel) readLayout(text []byte, j job.Job) (scatter.Layout, error) {
	name := filepath.Base(e.layoutPath)
	layout, gone, err := layoutfile.ReadOlder(name, text, j.Site, j.Plan.Kinds)
	if err == nil && len(gone) > 0 {
		layout, _, err = layoutfile.Read(name, text, j.Site, j.Plan.Kinds) // which says what is gone
	}
	return layout, err
}

// layRound lays a plan anew round those of the pieces, which are pieces of the plan that is shown, that are locked or hang, and returns
// them as pieces of the plan laid. What is hung while it lays stays as well.
func (e *Easel) layRound(ctx context.Context, j job.Job, pieces []scatter.Piece, seed uint64) (kept []scatter.Piece, layout scatter.Layout, err error) {
	for {
		if kept, err = e.staying(j, pieces); err != nil {
			return nil, layout, err
		}
		if layout, err = j.LayFrom(ctx, scatter.Start{Kept: kept}, seed, nil); err != nil {
			return nil, layout, err
		}
		if again, err := e.staying(j, pieces); err != nil || slices.Equal(again, kept) {
			return kept, layout, err
		}
	}
}

// staying returns the pieces that are locked or hang, as pieces of a job.
func (e *Easel) staying(j job.Job, pieces []scatter.Piece) ([]scatter.Piece, error) {
	hung, err := e.hanging()
	if err != nil {
		return nil, err
	}
	held := map[int]scatter.Piece{}
	for _, p := range hung.Held {
		held[p.ID] = p
	}
	var hang, fast []scatter.Piece
	for _, p := range pieces {
		was, hangs := held[p.ID]
		switch {
		case hangs && was.Face == p.Face && was.At == p.At: // and was not moved just now
			hang = append(hang, p)
		case p.Locked:
			fast = append(fast, p)
		}
	}
	kept, err := hanging.Carry(hang, e.shown.Job, j)
	kept = append(kept, carried(fast, e.shown.Job, j)...)
	slices.SortFunc(kept, func(a, b scatter.Piece) int { return cmp.Compare(a.ID, b.ID) })
	return kept, err
}

// wouldTakeDown says which pieces that hang would have other holes, or be gone, were these the pieces, of a job: as a *HangsError, or nil.
func (e *Easel) wouldTakeDown(pieces []scatter.Piece, j job.Job) error {
	hung, err := e.hanging()
	if err != nil || len(hung.Held) == 0 {
		return err
	}
	byMark, byID := map[string]scatter.Piece{}, map[int]scatter.Piece{}
	for _, p := range pieces {
		byMark[hanging.Mark(j.Site, j.Plan.Kinds, p)], byID[p.ID] = p, p
	}
	now := e.shown.Job
	var down HangsError
	for _, p := range hung.Held {
		mark := hanging.Mark(now.Site, now.Plan.Kinds, p)
		in, same := byMark[mark]
		if same {
			code := j.Plan.Kinds[in.Kind].Code
			if in.Heading == p.Heading && code == now.Plan.Kinds[p.Kind].Code || hung.As(mark, code, in.Heading) {
				continue
			}
		}
		down.Pieces = append(down.Pieces, p.ID)
		if !same {
			down.Fill += len(now.Plan.Kinds[p.Kind].Holes)
			if q, there := byID[p.ID]; there {
				down.Drill += len(j.Plan.Kinds[q.Kind].Holes)
			}
		}
	}
	if len(down.Pieces) == 0 {
		return nil
	}
	return &down
}

// Mend puts right what is not as the plan asks with as few pieces moved as can be. What hangs stays where it hangs, also where the
// layout has come to have it elsewhere and nobody has put it there; and so does what is locked.
func (e *Easel) Mend(ctx context.Context) error {
	ctx, end := e.begin(ctx, "")
	defer end()
	if ctx.Err() != nil {
		return overtaken(ctx, context.Cause(ctx))
	}
	record, err := e.record()
	if err != nil {
		return err
	}
	hung, err := e.hanging()
	if err != nil {
		return err
	}
	j, layout := e.shown.Job, e.shown.Work.Layout
	put, err := hanging.Put(j, layout.Pieces, record)
	if err != nil {
		return err
	}
	for _, p := range hung.Held {
		put.Held[p.ID] = true
	}
	for _, p := range put.Pieces {
		put.Held[p.ID] = put.Held[p.ID] || p.Locked
	}
	s := step{text: e.shown.Text, byHand: true}
	if s.layout, err = j.Mend(ctx, put.Pieces, put.Held, layout.Seed, nil); err != nil {
		return overtaken(ctx, err)
	}
	if slices.Equal(s.layout.Pieces, layout.Pieces) {
		return nil
	}
	shown, err := e.show(s, j)
	if err != nil {
		return err
	}
	return e.take(s, shown)
}
