package easel

import (
	"context"
	"errors"
	"fmt"
	"slices"

	"wallshoal/cmd/wallshoal/hanging"
	"wallshoal/cmd/wallshoal/job"
	"wallshoal/cmd/wallshoal/knob"
	"wallshoal/cmd/wallshoal/plan"
	"wallshoal/scatter"
)

// ErrStale says that what was tried is of a plan or a layout that has been changed since.
var ErrStale = errors.New("the plan was changed since; compare again")

// Try composes what edit makes of the plan, and shows it without making it a step. Take makes it one.
func (e *Easel) Try(ctx context.Context, edit Edit) (*Shown, error) {
	e.lock.Lock()
	defer e.lock.Unlock()
	text, err := edit(e.shown)
	if err != nil {
		return nil, err
	}
	shown, _, err := e.compose(ctx, text, "")
	if err == nil {
		shown.Trial = &Trial{of: e.shown.Revision}
	}
	return shown, err
}

// Take makes what Try or Option showed the step that is shown. The error is ErrStale where the work has
// become another meanwhile, or why it cannot be taken.
func (e *Easel) Take(tried *Shown) error {
	e.lock.Lock()
	defer e.lock.Unlock()
	switch t := tried.Trial; {
	case t == nil || t.of != e.shown.Revision:
		return ErrStale
	case t.Refused != nil:
		return t.Refused
	}
	hung, err := e.hanging()
	if err != nil {
		return err
	}
	if e.wouldTakeDown(tried.Work.Layout.Pieces, tried.Job) != nil {
		return ErrStale // something was hung since
	}
	s := step{text: tried.Text, layout: tried.Work.Layout, byHand: len(locked(tried.Work.Layout.Pieces))+len(hung.Held) > 0, laid: tried.Laid}
	shown, err := e.show(s, tried.Job)
	if err != nil {
		return err
	}
	return e.take(s, shown)
}

// Option composes an option of the plan, by its name, and shows it without making it a step. It is laid anew
// and keeps no piece that is locked, but all that hang. Its text is the plan with the option written into it, which Take makes the
// plan; where that cannot be, it is the plan as it is, and the trial says why.
func (e *Easel) Option(ctx context.Context, name string) (*Shown, error) {
	e.lock.Lock()
	defer e.lock.Unlock()
	now := e.shown
	i := slices.IndexFunc(now.Job.Plan.Options, func(o plan.OptionSection) bool { return o.Name == name })
	if i < 0 {
		return nil, fmt.Errorf("the plan has no option %q", name)
	}
	hung, err := e.hanging()
	if err != nil {
		return nil, err
	}
	j, layout, err := now.Job.LayOptionFrom(ctx, i, now.Job.Plan.Seed, func(o job.Job) ([]scatter.Piece, error) { return hanging.Carry(hung.Held, now.Job, o) })
	if err != nil {
		return nil, err
	}
	text := now.Text
	trial := Trial{of: now.Revision}
	taking, err := knob.TakeOption(now.Job, text, i, e.read)
	if err == nil {
		text, j = taking.Text, taking.Job
	} else {
		trial.Refused = err
	}
	shown, err := e.show(step{text: text, layout: layout, laid: true}, j)
	if err == nil {
		shown.Trial = &trial
	}
	return shown, err
}
