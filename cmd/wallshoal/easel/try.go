package easel

import (
	"context"
	"fmt"
	"slices"

	"wallshoal/cmd/wallshoal/plan"
)

// Try composes what edit makes of the plan, and shows it without making it a step. Take makes it one.
func (e *Easel) Try(ctx context.Context, edit Edit) (*Shown, error) {
	e.lock.Lock()
	defer e.lock.Unlock()
	text, err := edit(e.shown)
	if err != nil {
		return nil, err
	}
	shown, _, err := e.compose(ctx, text, "")
	return shown, err
}

// Take makes what Try showed the step that is shown.
func (e *Easel) Take(tried *Shown) error {
	e.lock.Lock()
	defer e.lock.Unlock()
	s := step{text: tried.Text, layout: tried.Work.Layout, byHand: len(locked(tried.Work.Layout.Pieces)) > 0}
	shown, err := e.show(s, tried.Job)
	if err != nil {
		return err
	}
	e.take(s, shown)
	return nil
}

// Option composes an option of the plan, by its name, and shows it without making it a step. Its text is
// that of the plan: an option is not written into it, and cannot be taken.
func (e *Easel) Option(ctx context.Context, name string) (*Shown, error) {
	e.lock.Lock()
	defer e.lock.Unlock()
	i := slices.IndexFunc(e.shown.Job.Plan.Options, func(o plan.OptionSection) bool { return o.Name == name })
	if i < 0 {
		return nil, fmt.Errorf("the plan has no option %q", name)
	}
	j, layout, err := e.shown.Job.LayOption(ctx, i, e.shown.Job.Plan.Seed)
	if err != nil {
		return nil, err
	}
	return e.show(step{text: e.shown.Text, layout: layout}, j)
}
