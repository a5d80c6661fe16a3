package easel

import (
	"bytes"
	"context"
	"errors"
	"path/filepath"
	"slices"

	"wallshoal/cmd/wallshoal/job"
	"wallshoal/cmd/wallshoal/knob"
	"wallshoal/cmd/wallshoal/yamlfile"
	"wallshoal/scatter"
	"wallshoal/scatter/heading"
	"wallshoal/wall/plane"
)

// A Difference is what was done to the plan here and by somebody else since what is shown was what the files hold.
type Difference struct {
	Files       []string        // the names of those that were changed by somebody else; none if neither was
	Outside     Outside         // what was done to the first of them
	Faults      yamlfile.Faults // of the files as they are now, where Outside is Faulty
	Here, There Changes         // what was changed; nothing where a file has faults, or the first of them is gone
	Lost        []string        // lines of the plan's file that what is shown has not: saving over it takes them away
	Both        error           // why both cannot be kept; nil where they can
	Seen        string          // stands for what the files hold, for Save to write over just that
}

// Changes are what was changed in a plan, and in its layout where somebody else changed that too.
type Changes struct {
	Turns  []knob.Turn
	Lines  int   // that are otherwise, besides
	Pieces []int // the IDs of those that lie otherwise, in ascending order
}

// Difference says what stands against what: what the files hold now, and what is shown. Nothing changes by asking.
func (e *Easel) Difference(ctx context.Context) (Difference, error) {
	e.lock.Lock()
	defer e.lock.Unlock()
	found, err := e.readFiles()
	if err != nil {
		return Difference{}, err
	}
	now := e.files.seen(found, e.steps.of(e.at))
	var d Difference
	if d.Outside, _ = e.outside(now); d.Outside == Same {
		return d, nil
	}
	d.Seen = found.mark()
	if e.planNews(now) {
		d.Files = append(d.Files, filepath.Base(e.path))
		d.Lost = lost(now.plan.text, e.shown.Text)
	}
	if e.layoutNews(now) {
		d.Files = append(d.Files, filepath.Base(e.layoutPath))
	}
	if d.Outside == Gone {
		return d, nil
	}
	d.Outside = Changed
	// Composed as well: a plan that has no room for its pieces cannot be shown either.
	theirs, _, err := e.composeFiles(ctx, now)
	if errors.As(err, &d.Faults) {
		d.Outside = Faulty
		return d, nil
	}
	if err != nil {
		return d, err
	}
	there := knob.Version{Text: now.plan.text, Job: theirs.Job}
	base, err := e.base()
	if err != nil {
		d.Both = err
		return d, nil
	}
	if e.layoutNews(now) {
		was, mine, there := e.basePlaces(base.Job), places(e.shown.Work.Layout, e.shown.Job), places(theirs.Work.Layout, theirs.Job)
		if was == nil { // nobody had placed any
			was = mine
		}
		d.Here.Pieces, d.There.Pieces = otherwise(was, mine), otherwise(was, there)
	}
	d.Here.Turns, d.Here.Lines = knob.Turns(base, e.version(), e.read)
	d.There.Turns, d.There.Lines = knob.Turns(base, there, e.read)
	merged, err := e.merged(now, there)
	if err == nil {
		_, _, err = e.compose(ctx, merged, "")
	}
	if ctx.Err() != nil {
		return d, context.Cause(ctx)
	}
	d.Both = err
	return d, nil
}

// lost returns the lines of a text that another has not, or not as often, but for those that are empty.
func lost(text, other []byte) []string {
	count := map[string]int{}
	for line := range bytes.Lines(other) {
		count[string(bytes.TrimSpace(line))]++
	}
	var lines []string
	for line := range bytes.Lines(text) {
		line := string(bytes.TrimSpace(line))
		if count[line]--; count[line] < 0 && line != "" {
			lines = append(lines, line)
		}
	}
	return lines
}

// A place is where and how a piece hangs, by names that mean the same in another job.
type place struct {
	wall, face, kind string
	at               plane.Point
	heading          heading.Bearing
	locked           bool
}

// places returns where the pieces of a layout hang, by their IDs.
func places(layout scatter.Layout, j job.Job) map[int]place {
	all := map[int]place{}
	for _, p := range layout.Pieces {
		f := j.Site.Faces[p.Face]
		all[p.ID] = place{j.Site.Room.Walls[f.Wall].Name, f.Name, j.Plan.Kinds[p.Kind].Code, p.At, p.Heading, p.Locked}
	}
	return all
}

// basePlaces returns where pieces hung in what the layout's file held last of what is shown; nil where there was none, or it is not
// one of that plan.
func (e *Easel) basePlaces(of job.Job) map[int]place {
	text := e.steps.of(e.at).layout.text
	if text == nil {
		return nil
	}
	layout, err := e.readLayout(text, of)
	if err != nil {
		return nil
	}
	return places(layout, of)
}

// otherwise returns the IDs of pieces that do not hang alike in both, or only in one, in ascending order.
func otherwise(before, after map[int]place) []int {
	var ids []int
	for id, is := range after {
		if was, there := before[id]; !there || was != is {
			ids = append(ids, id)
		}
	}
	for id := range before {
		if _, there := after[id]; !there {
			ids = append(ids, id)
		}
	}
	slices.Sort(ids)
	return ids
}
