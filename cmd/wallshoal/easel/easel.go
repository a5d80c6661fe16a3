// Package easel holds an open plan while somebody composes: its text as it is being changed, the
// layout that comes of it, every step back to where it began, and what lies on the disk meanwhile.
//
// What is shown is a value that never changes once made. The easel makes a new one at every step and
// numbers it.
package easel

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"

	"wallshoal/cmd/wallshoal/hanging"
	"wallshoal/cmd/wallshoal/job"
	"wallshoal/cmd/wallshoal/plan"
	"wallshoal/cmd/wallshoal/yamlfile"
	"wallshoal/export/folder"
	"wallshoal/export/holemap"
	"wallshoal/scatter"
)

// A Shown is a plan and a layout of it as they are at one moment.
type Shown struct {
	Revision int // another for every other plan and layout
	Text     []byte
	Job      job.Job
	Work     holemap.Work
	Flaws    []scatter.Finding // in which the layout is not as the plan asks
	Laid     bool              // just as the plan comes to it, with what is locked; nothing was moved since
	Trial    *Trial            // of what was only tried; nil of a step
}

// A Trial is what taking something that was tried means.
type Trial struct {
	of      int   // the revision that was shown then
	Refused error // why it cannot be taken; nil where it can
}

// A Status is how what is shown stands to what was before, and to the files.
type Status struct {
	Revision   int
	Saved      bool     // the files hold what is shown
	Unsaved    []string // the names of those that do not
	Undo, Redo bool     // there is a step back, and one forth again
	Outside    Outside
	File       string          // the name of the file that Outside is of; empty where that is Same
	Faults     yamlfile.Faults // of the files as they are now, where Outside is Faulty
	Hanging    hanging.Hanging // what hangs of what is shown
	Unread     error           // why nobody knows what hangs; nil where it is known
}

// Outside is what somebody else did to a file, and what is shown does not go back to.
type Outside string

// Nothing; a change that saving would undo; the file is gone; or a change that left it with faults.
const (
	Same    Outside = ""
	Changed Outside = "changed"
	Gone    Outside = "gone"
	Faulty  Outside = "faults"
)

// ErrOutside says that a file was changed by somebody else, and is not written over.
var ErrOutside = errors.New("was changed outside meanwhile, and is left as it is")

// ErrOvertaken says that a change was given up for a later one.
var ErrOvertaken = errors.New("a later change took its place")

// An Easel holds one open plan. Its methods may be called from several goroutines.
type Easel struct {
	path, layoutPath string
	progressPath     string
	folder           *os.Root                                                                  // of the plan
	replace          func(ctx context.Context, path string, write func(io.Writer) error) error // folder.ReplaceFile

	hurry sync.Mutex // guards what follows
	stop  context.CancelCauseFunc
	doing string // the gesture of the change that is being made; empty for none

	lock     sync.Mutex // guards what follows; a change holds it from beginning to end
	shown    *Shown
	steps    history
	at       int // the step that is shown
	revision int
	files    files
	glimpsed disk            // what the files held at the last look
	faults   yamlfile.Faults // of the files as they are now; nil where they can be shown, or one is gone
}

// A step is one state in the history.
type step struct {
	text    []byte
	layout  scatter.Layout
	gesture string // what made it; a step of the same gesture takes its place
	byHand  bool   // the layout is not simply what the plan comes to
	laid    bool   // it is what the plan comes to with the pieces that are locked
	of      origins
}

// same reports whether two steps have the same plan, to the letter, and the same pieces.
func (s step) same(other step) bool {
	return bytes.Equal(s.text, other.text) && s.layout.Seed == other.layout.Seed && slices.Equal(s.layout.Pieces, other.layout.Pieces)
}

// Open opens the plan at path, and the layout that lies beside it if there is one; layout names
// another. The caller closes the easel. The error is yamlfile.Faults where the plan or the layout is at fault.
func Open(ctx context.Context, path, layout string) (*Easel, error) {
	root, err := os.OpenRoot(filepath.Dir(path))
	if err != nil {
		return nil, fmt.Errorf("%q cannot be read: %w", filepath.Dir(path), job.Cause(err))
	}
	e := &Easel{path: path, layoutPath: layout, progressPath: ProgressBeside(path), folder: root, replace: folder.ReplaceFile}
	if layout == "" {
		e.layoutPath = LayoutBeside(path)
	}
	if err := e.open(ctx, layout != ""); err != nil {
		return nil, errors.Join(err, root.Close())
	}
	return e, nil
}

// Close ends the work on the plan. What was not saved is gone.
func (e *Easel) Close() error { return e.folder.Close() }

// LayoutBeside returns where the layout of a plan lies unless another place is named.
func LayoutBeside(path string) string {
	return strings.TrimSuffix(path, filepath.Ext(path)) + ".layout.yaml"
}

func (e *Easel) open(ctx context.Context, needLayout bool) error {
	found, err := e.readFiles()
	if err != nil {
		return err
	}
	if found.plan == nil {
		return missing(e.path)
	}
	if needLayout && found.layout == nil {
		return missing(e.layoutPath)
	}
	s := step{text: found.plan, of: origins{new(origin), new(origin)}}
	e.files.plan = e.files.plan.written(found.plan, s.of.plan)
	e.files.layout = e.files.layout.written(found.layout, s.of.layout)
	e.glimpsed = found
	j, err := e.read(found.plan)
	if err != nil {
		return err
	}
	if found.layout != nil {
		s.layout, err = e.readLayout(found.layout, j)
		s.byHand = true
	} else {
		s.laid = true
		s.layout, s.byHand, err = e.layFirst(ctx, j)
	}
	if err != nil {
		return err
	}
	shown, err := e.show(s, j)
	if err != nil {
		return err
	}
	if found.layout != nil {
		s.of.layout.ours = layoutText(shown)
	}
	e.steps.put(0, s)
	e.shown = shown
	return nil
}

// read makes a job of the text of the plan.
func (e *Easel) read(text []byte) (job.Job, error) {
	var before job.Job
	if e.shown != nil {
		before = e.shown.Job
	}
	return before.Reread(filepath.Base(e.path), text, e.folder.FS())
}

// show returns a step as it is shown, under a number of its own.
func (e *Easel) show(s step, j job.Job) (*Shown, error) {
	w, err := j.Work(s.layout)
	if err != nil {
		return nil, err
	}
	flaws, err := scatter.Inspect(j.Site, j.Plan.Kinds, j.Plan.Composition, s.layout, j.Plan.Units)
	if err != nil {
		return nil, err
	}
	e.revision++
	return &Shown{Revision: e.revision, Text: s.text, Job: j, Work: w, Flaws: flaws, Laid: s.laid}, nil
}

// Paths returns where the plan's file lies and where its layout's does.
func (e *Easel) Paths() (planFile, layoutFile string) { return e.path, e.layoutPath }

// Folder returns the folder of the plan.
func (e *Easel) Folder() string { return filepath.Dir(e.path) }

// Now returns what is shown and how it stands.
func (e *Easel) Now() (*Shown, Status) {
	e.lock.Lock()
	defer e.lock.Unlock()
	return e.shown, e.status()
}

func (e *Easel) status() Status {
	unsaved := e.unsaved()
	outside, file := e.outside(e.files)
	hung, unread := e.hanging()
	return Status{
		Hanging: hung, Unread: unread,
		Revision: e.shown.Revision, Saved: len(unsaved) == 0, Unsaved: unsaved, Undo: e.at > 0, Redo: e.at < e.steps.len()-1,
		Outside: outside, File: file, Faults: e.faults,
	}
}

// begin marks a change as being made, gives up one of the same gesture that still is, and waits for the
// easel. The returned function ends it.
func (e *Easel) begin(ctx context.Context, gesture string) (context.Context, func()) {
	ctx, stop := context.WithCancelCause(ctx)
	e.hurry.Lock()
	if e.stop != nil && gesture != "" && e.doing == gesture {
		e.stop(ErrOvertaken)
	}
	e.stop, e.doing = stop, gesture
	e.hurry.Unlock()
	e.lock.Lock()
	return ctx, func() {
		e.lock.Unlock()
		stop(nil)
	}
}

// overtaken returns ErrOvertaken for an error that comes of a change given up for a later one.
func overtaken(ctx context.Context, err error) error {
	if err != nil && errors.Is(context.Cause(ctx), ErrOvertaken) {
		return ErrOvertaken
	}
	return err
}

// take makes s the step that is shown: a new one, or in the place of the one before where both are
// of one gesture. What was to be done again is gone. It goes back to what the step shown before does, unless it says to
// what. Where nothing is otherwise than in the step that it would follow there is no new step: a gesture that came back
// to where it began leaves nothing to undo.
func (e *Easel) take(s step, shown *Shown) error {
	if s.of == (origins{}) {
		s.of = e.steps.of(e.at)
	}
	to := e.at + 1
	if s.gesture != "" && e.at > 0 && e.steps.gesture(e.at) == s.gesture {
		to = e.at
	}
	if before := e.steps.step(to - 1); s.same(before) && s.of == before.of {
		if to > e.at {
			return nil
		}
		var err error
		if shown, err = e.show(before, shown.Job); err != nil {
			return err
		}
		e.at, e.shown = to-1, shown
		e.steps.cut(to)
		e.meet()
		return nil
	}
	e.at, e.shown = to, shown
	e.steps.put(to, s)
	e.meet()
	return nil
}

// An Edit returns the text of the plan that is shown with a change made in it.
type Edit func(shown *Shown) ([]byte, error)

// Change changes the text of the plan as edit does, and composes it anew round the pieces that are
// locked, or hang. Changes of one gesture, if it has a name, are one step, and one that alters neither the text nor a piece
// is none. Where the plan comes to have faults, or
// has no room for its pieces, nothing changes and the error is yamlfile.Faults.
func (e *Easel) Change(ctx context.Context, gesture string, edit Edit) error {
	ctx, end := e.begin(ctx, gesture)
	defer end()
	if ctx.Err() != nil {
		return overtaken(ctx, context.Cause(ctx))
	}
	text, err := edit(e.shown)
	if err != nil {
		return err
	}
	if bytes.Equal(text, e.shown.Text) {
		return nil
	}
	shown, s, err := e.compose(ctx, text, gesture)
	if err != nil {
		return overtaken(ctx, err)
	}
	return e.take(s, shown)
}

// compose composes a text round the pieces that are locked, or hang.
func (e *Easel) compose(ctx context.Context, text []byte, gesture string) (*Shown, step, error) {
	j, err := e.read(text)
	if err != nil {
		return nil, step{}, err
	}
	s := step{text: text, gesture: gesture, laid: true}
	kept, layout, err := e.layRound(ctx, j, e.shown.Work.Layout.Pieces, j.Plan.Seed)
	if err != nil {
		return nil, step{}, err
	}
	s.layout, s.byHand = layout, len(kept) > 0
	shown, err := e.show(s, j)
	return shown, s, err
}

// Walk goes a step back, for -1, or one forth again, for +1. Where there is none nothing happens. Where pieces hang that have other
// holes there, nothing happens either, unless they may come down, and the error is a *HangsError.
func (e *Easel) Walk(by int, down bool) error {
	e.lock.Lock()
	defer e.lock.Unlock()
	to := e.at + by
	if to < 0 || to >= e.steps.len() {
		return nil
	}
	s := e.steps.step(to)
	j := e.shown.Job
	if !bytes.Equal(s.text, e.shown.Text) {
		var err error
		if j, err = e.read(s.text); err != nil {
			return err // what lies beside the plan has changed
		}
	}
	if !down {
		if err := e.wouldTakeDown(s.layout.Pieces, j); err != nil {
			return err
		}
	}
	shown, err := e.show(s, j)
	if err != nil {
		return err
	}
	e.at, e.shown = to, shown
	e.meet()
	return nil
}

// MaxBytes is the length of the longest plan that can be opened.
const MaxBytes = plan.MaxBytes
