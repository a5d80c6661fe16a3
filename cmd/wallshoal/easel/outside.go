package easel

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"

	"wallshoal/cmd/wallshoal/knob"
	"wallshoal/cmd/wallshoal/yamlfile"
)

// Look looks whether the plan's file was changed by somebody else, and reports whether that made
// anything different here. A change of the file is taken by itself where there is none here; it is a step
// that can be undone.
func (e *Easel) Look(ctx context.Context) (bool, error) {
	e.lock.Lock()
	defer e.lock.Unlock()
	text, err := contentsOf(e.path, MaxBytes)
	if err != nil {
		return false, err
	}
	before, faults := e.outside, e.faults
	switch {
	case text == nil:
		e.outside, e.faults = Gone, nil
	case bytes.Equal(text, e.disk.plan):
		e.outside, e.faults = Same, nil
	case bytes.Equal(text, e.shown.Text):
		e.disk.plan, e.outside, e.faults = text, Same, nil
	default:
		unchanged := bytes.Equal(e.shown.Text, e.disk.plan)
		_, err := e.read(text)
		switch {
		case errors.As(err, &e.faults):
			e.outside = Faulty
		case err != nil:
			return false, err
		case unchanged:
			return true, e.takeText(ctx, text)
		default:
			e.outside, e.faults = Changed, nil
		}
	}
	return e.outside != before || faults.Error() != e.faults.Error(), nil
}

// takeText makes the text of the plan's file, which was changed by somebody else, the step that is shown.
func (e *Easel) takeText(ctx context.Context, text []byte) error {
	err := e.retake(ctx, text, "")
	if faults := (yamlfile.Faults)(nil); errors.As(err, &faults) {
		e.outside, e.faults = Faulty, faults
		return nil
	}
	if err != nil {
		return err
	}
	e.disk.plan, e.outside, e.faults = text, Same, nil
	return nil
}

// A Difference is what was done to the plan here and by somebody else since its file was last read or written here.
type Difference struct {
	File        string          // that was changed by somebody else: the plan's, or its layout's; empty if neither was
	Outside     Outside         // what was done to the plan's file; Same where only the layout's was changed
	Faults      yamlfile.Faults // of the plan's file as it is now, where Outside is Faulty
	Here, There Changes         // what was changed; nothing where the file has faults, or is gone
	Both        error           // why both cannot be kept; nil where they can
}

// Changes are what was changed in a plan.
type Changes struct {
	Turns []knob.Turn
	Lines int // that are otherwise, besides
}

// Difference says what stands against what: what the plan's file holds now, and what is shown.
func (e *Easel) Difference(ctx context.Context) (Difference, error) {
	e.lock.Lock()
	defer e.lock.Unlock()
	found, err := e.readDisk()
	if err != nil {
		return Difference{}, err
	}
	d := Difference{File: filepath.Base(e.path)}
	switch {
	case found.plan == nil:
		d.Outside = Gone
		return d, nil
	case bytes.Equal(found.plan, e.disk.plan) || bytes.Equal(found.plan, e.shown.Text):
		d.File = ""
		if !bytes.Equal(found.layout, e.disk.layout) {
			d.File = filepath.Base(e.layoutPath)
		}
		return d, nil
	}
	d.Outside = Changed
	// Composed as well: a plan that has no room for its pieces cannot be shown either.
	theirs, _, err := e.compose(ctx, found.plan, "")
	if errors.As(err, &d.Faults) {
		d.Outside = Faulty
		return d, nil
	}
	if err != nil {
		return d, err
	}
	there, mine := knob.Version{Text: found.plan, Job: theirs.Job}, e.version()
	base, err := e.base()
	if err != nil {
		d.Both = err
		return d, nil
	}
	d.Here.Turns, d.Here.Lines = knob.Turns(base, mine, e.read)
	d.There.Turns, d.There.Lines = knob.Turns(base, there, e.read)
	merged, err := knob.Merge(base, mine, there, e.read)
	if err == nil {
		_, _, err = e.compose(ctx, merged, "")
	}
	if ctx.Err() != nil {
		return d, context.Cause(ctx)
	}
	d.Both = err
	return d, nil
}

// version returns what is shown as a version of the plan.
func (e *Easel) version() knob.Version { return knob.Version{Text: e.shown.Text, Job: e.shown.Job} }

// base returns the version of the plan that was last read or written here.
func (e *Easel) base() (knob.Version, error) {
	j, err := e.read(e.disk.plan)
	return knob.Version{Text: e.disk.plan, Job: j}, err
}

// TakeTheirs makes the text of the plan's file, which was changed by somebody else, the step that is shown. Where it has
// faults nothing changes but the status.
func (e *Easel) TakeTheirs(ctx context.Context) error {
	e.lock.Lock()
	defer e.lock.Unlock()
	text, err := e.found()
	if err != nil {
		return err
	}
	return e.takeText(ctx, text)
}

// KeepBoth makes the text of the plan's file with the knobs turned as they were turned here the step that is shown, which is
// not saved. Where that cannot be nothing changes, and the error says why.
func (e *Easel) KeepBoth(ctx context.Context) error {
	e.lock.Lock()
	defer e.lock.Unlock()
	text, err := e.found()
	if err != nil {
		return err
	}
	j, err := e.read(text)
	if err != nil {
		return err
	}
	base, err := e.base()
	if err != nil {
		return err
	}
	merged, err := knob.Merge(base, e.version(), knob.Version{Text: text, Job: j}, e.read)
	if err != nil {
		return fmt.Errorf("both cannot be kept: %w", err)
	}
	if err := e.retake(ctx, merged, ""); err != nil {
		return err
	}
	e.disk.plan, e.outside, e.faults = text, Same, nil
	return nil
}

// found returns what the plan's file holds now.
func (e *Easel) found() ([]byte, error) {
	text, err := contentsOf(e.path, MaxBytes)
	if err == nil && text == nil {
		err = fmt.Errorf("%q cannot be read: %w", e.path, fs.ErrNotExist)
	}
	return text, err
}
