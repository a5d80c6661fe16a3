package easel

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"path/filepath"

	"wallshoal/cmd/wallshoal/job"
	"wallshoal/cmd/wallshoal/knob"
	"wallshoal/scatter"
)

// errTwoLayouts says why two layouts are not brought together.
var errTwoLayouts = errors.New("pieces lie otherwise there, and a layout is taken as a whole")

// outside returns what somebody else did to which file, of the files as they are now: to the plan's, or else to the layout's.
func (e *Easel) outside(now files) (Outside, string) {
	news, path := e.planNews(now), e.path
	text := now.plan.text
	if !news {
		news, path, text = e.layoutNews(now), e.layoutPath, now.layout.text
	}
	switch {
	case !news:
		return Same, ""
	case text == nil:
		return Gone, filepath.Base(path)
	case e.faults != nil:
		return Faulty, filepath.Base(path)
	}
	return Changed, filepath.Base(path)
}

// planNews reports whether the plan's file is as what is shown does not go back to.
func (e *Easel) planNews(now files) bool {
	return now.plan.of != e.steps.of(e.at).plan && !same(now.plan.text, e.shown.Text)
}

// layoutNews reports the same of the layout's.
func (e *Easel) layoutNews(now files) bool {
	return now.layout.of != e.steps.of(e.at).layout && !same(now.layout.text, e.layoutOf(now))
}

// Look looks whether the files were changed by somebody else, and reports whether that made
// anything different here. A change is taken by itself where there is none here; it is a step
// that can be undone. What may be half written, or half replaced, is left alone: a change counts once two looks have found
// the same.
func (e *Easel) Look(ctx context.Context) (bool, error) {
	e.lock.Lock()
	defer e.lock.Unlock()
	found, err := e.readFiles()
	if err != nil {
		return false, err
	}
	settled := found.same(e.glimpsed)
	e.glimpsed = found
	// What is at fault may have come right by a file that lies beside it.
	if !settled || found.same(e.files.disk()) && e.faults == nil {
		return false, nil
	}
	before := e.status()
	of := e.steps.of(e.at)
	planHeld := e.files.plan.holds(e.shown.Text, of.plan)
	layout := e.layoutOf(e.files)
	layoutHeld := layout == nil || e.files.layout.holds(layout, of.layout)
	e.settle(e.files.seen(found, of))
	switch outside, _ := e.outside(e.files); {
	case outside == Same || outside == Gone:
	case planHeld && (layoutHeld || !e.layoutNews(e.files)):
		err = e.takeFiles(ctx)
	default:
		_, _, err = e.theirs(e.files)
		errors.As(err, &e.faults)
	}
	if err != nil && e.faults == nil {
		return false, err
	}
	after := e.status()
	return after.Revision != before.Revision || after.Outside != before.Outside || after.File != before.File ||
		after.Saved != before.Saved || after.Faults.Error() != before.Faults.Error(), nil
}

// theirs reads what the files hold now, which somebody else wrote. The layout is nil where it was not changed there.
func (e *Easel) theirs(now files) (job.Job, *scatter.Layout, error) {
	j, err := e.read(now.plan.text)
	if err != nil || now.layout.text == nil || !e.layoutNews(now) {
		return j, nil, err
	}
	layout, err := e.readLayout(now.layout.text, j)
	return j, &layout, err
}

// composeFiles composes what the files hold now. A layout that somebody else changed is taken as it is; else the plan is composed round
// the pieces that are locked here.
func (e *Easel) composeFiles(ctx context.Context, now files) (*Shown, step, error) {
	of := origins{now.plan.of, e.steps.of(e.at).layout}
	j, layout, err := e.theirs(now)
	if err != nil {
		return nil, step{}, err
	}
	if layout == nil {
		shown, s, err := e.compose(ctx, now.plan.text, "")
		s.of = of
		return shown, s, err
	}
	of.layout = now.layout.of
	s := step{text: now.plan.text, layout: *layout, byHand: true, of: of}
	shown, err := e.show(s, j)
	if err == nil {
		of.layout.ours = layoutText(shown)
	}
	return shown, s, err
}

// takeFiles makes what the files hold the step that is shown. Where they have faults nothing changes but the status.
func (e *Easel) takeFiles(ctx context.Context) error {
	shown, s, err := e.composeFiles(ctx, e.files)
	if errors.As(err, &e.faults) {
		return nil
	}
	if err != nil {
		return err
	}
	e.faults = nil
	if s.of.layout == e.files.layout.of {
		e.files.layout.taken = s.of.layout
	}
	e.files.plan.taken = s.of.plan
	return e.take(s, shown)
}

// TakeTheirs makes what the files hold, which were changed by somebody else, the step that is shown. Where they have
// faults nothing changes but the status.
func (e *Easel) TakeTheirs(ctx context.Context) error {
	e.lock.Lock()
	defer e.lock.Unlock()
	found, err := e.readFiles()
	if err != nil {
		return err
	}
	now := e.files.seen(found, e.steps.of(e.at))
	switch outside, name := e.outside(now); outside {
	case Same:
		return nil
	case Gone:
		return missing(name)
	}
	e.settle(now)
	return e.takeFiles(ctx)
}

// KeepBoth makes the text of the plan's file with the knobs turned as they were turned here the step that is shown, which is
// not saved. Where that cannot be nothing changes, and the error says why.
func (e *Easel) KeepBoth(ctx context.Context) error {
	e.lock.Lock()
	defer e.lock.Unlock()
	found, err := e.readFiles()
	if err != nil {
		return err
	}
	now := e.files.seen(found, e.steps.of(e.at))
	if now.plan.text == nil {
		return missing(e.path)
	}
	j, _, err := e.theirs(now)
	if err != nil {
		return err
	}
	merged, err := e.merged(now, knob.Version{Text: now.plan.text, Job: j})
	if err != nil {
		return fmt.Errorf("both cannot be kept: %w", err)
	}
	of := e.steps.of(e.at)
	of.plan, now.plan.taken = now.plan.of, now.plan.of
	if bytes.Equal(merged, e.shown.Text) { // theirs is in it already
		e.steps.goesBackTo(e.at, of)
		e.settle(now)
		return nil
	}
	shown, s, err := e.compose(ctx, merged, "")
	if err != nil {
		return err
	}
	s.of = of
	e.settle(now)
	return e.take(s, shown)
}

// merged returns the text of theirs with what was turned here since what is shown was last what the plan's file holds.
func (e *Easel) merged(now files, theirs knob.Version) ([]byte, error) {
	if e.layoutNews(now) {
		return nil, errTwoLayouts
	}
	base, err := e.base()
	if err != nil {
		return nil, err
	}
	return knob.Merge(base, e.version(), theirs, e.read)
}

// version returns what is shown as a version of the plan.
func (e *Easel) version() knob.Version { return knob.Version{Text: e.shown.Text, Job: e.shown.Job} }

// base returns the version of the plan that its file held last of what is shown.
func (e *Easel) base() (knob.Version, error) {
	text := e.steps.of(e.at).plan.text
	j, err := e.read(text)
	return knob.Version{Text: text, Job: j}, err
}
