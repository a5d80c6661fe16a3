package easel

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"wallshoal/cmd/wallshoal/job"
	"wallshoal/cmd/wallshoal/layoutfile"
)

// An origin is what texts go back to that differ by nothing but what was done here. Every text that somebody else writes
// into a file begins one.
type origin struct {
	text []byte // what the file last held of it; nil where there was no file
	ours []byte // the same as it would be written here: a layout that somebody edited has another form; nil where it was not read
}

// is reports whether a text says what the file last held.
func (o *origin) is(text []byte) bool {
	return same(text, o.text) || o.ours != nil && same(text, o.ours)
}

// origins are what a step goes back to.
type origins struct{ plan, layout *origin }

// A file is one of the two on the disk, as it was last seen.
//
// A step has the origins of the step it was made from, and those of the files once it takes what somebody else wrote into
// them. A file that is saved has the origin of the step that is in it. So what a file holds is lost by nothing
// but what was done here where file and step go back to the same; where they do not, the file may hold what the step never had, whatever
// was undone, done again or kept in between, and nobody writes over it without having been asked.
type file struct {
	text  []byte  // nil where there is none
	of    *origin // what the text goes back to
	taken *origin // what that went back to which was last taken from the file, or written into it
}

// seen returns the file as it is once it holds a text. The origin is of the step that is shown.
func (f file) seen(text []byte, shown *origin) file {
	switch {
	case same(text, f.text):
		return f
	case same(text, shown.text):
		f.of = shown
	case same(text, f.taken.text):
		f.of = f.taken
	default:
		f.of = &origin{text: text}
	}
	f.text = text
	return f
}

// written returns the file as it is once a text that goes back to of was written into it.
func (f file) written(text []byte, of *origin) file {
	of.text, of.ours = text, text
	f.text, f.of, f.taken = text, of, of
	return f
}

// holds reports whether nothing was done here to a text, which goes back to of, that the file does not hold, or did
// not before somebody else changed it.
func (f file) holds(text []byte, of *origin) bool {
	return same(text, f.text) || of == f.taken && of.is(text)
}

// same reports whether two files hold the same; nil is one that is not there.
func same(a, b []byte) bool { return (a == nil) == (b == nil) && bytes.Equal(a, b) }

// files are the plan's and its layout's.
type files struct{ plan, layout file }

// A disk is what the files hold; nil for one that is not there.
type disk struct{ plan, layout []byte }

func (d disk) same(other disk) bool { return same(d.plan, other.plan) && same(d.layout, other.layout) }

// mark returns a short text that is another for every other content of the files.
func (d disk) mark() string {
	hash := sha256.New()
	for _, text := range [][]byte{d.plan, d.layout} {
		_, _ = fmt.Fprintf(hash, "%t %d\n%s", text == nil, len(text), text) // a hash takes all
	}
	return hex.EncodeToString(hash.Sum(nil)[:16])
}

// disk returns what the files held when they were last seen.
func (f files) disk() disk { return disk{f.plan.text, f.layout.text} }

// seen returns the files as they are with what they hold now. What is shown goes back to shown.
func (f files) seen(now disk, shown origins) files {
	return files{f.plan.seen(now.plan, shown.plan), f.layout.seen(now.layout, shown.layout)}
}

// readFiles returns what the files hold now.
func (e *Easel) readFiles() (disk, error) {
	var d disk
	var err error
	if d.plan, err = contentsOf(e.path, MaxBytes); err != nil {
		return d, err
	}
	d.layout, err = contentsOf(e.layoutPath, layoutfile.MaxBytes)
	return d, err
}

// missing says that there is no file.
func missing(path string) error { return fmt.Errorf("%q cannot be read: %w", path, fs.ErrNotExist) }

// contentsOf returns what a file holds, and one byte more than the most of a longer one, so that its
// reader complains of it; nil where there is none.
func contentsOf(path string, most int64) ([]byte, error) {
	file, err := os.Open(path)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, fmt.Errorf("%q cannot be read: %w", path, job.Cause(err))
	}
	defer file.Close()
	data, err := io.ReadAll(io.LimitReader(file, most+1))
	if err != nil {
		return nil, fmt.Errorf("%q cannot be read: %w", path, job.Cause(err))
	}
	if data == nil {
		data = []byte{}
	}
	return data, nil
}

// Save writes the plan, and the layout where hands were at it or where it has a file. A file that holds what
// somebody else wrote, and what is shown does not go back to, is left as it is with all others, and the error is ErrOutside,
// unless over is what Difference says was seen, and the files still hold that. Where a file cannot be written the error says
// so, and that file is as it was.
func (e *Easel) Save(ctx context.Context, over string) error {
	e.lock.Lock()
	defer e.lock.Unlock()
	found, err := e.readFiles()
	if err != nil {
		return err
	}
	of := e.steps.of(e.at)
	now := e.files.seen(found, of)
	layout := e.layoutOf(now)
	writesPlan := !same(e.shown.Text, found.plan)
	writesLayout := layout != nil && !same(layout, found.layout) && !(now.layout.of == of.layout && of.layout.is(layout))
	switch {
	case over != "" && over == found.mark():
	case writesPlan && now.plan.of != of.plan:
		return fmt.Errorf("%s %w", filepath.Base(e.path), ErrOutside)
	case writesLayout && now.layout.of != of.layout:
		return fmt.Errorf("%s %w", filepath.Base(e.layoutPath), ErrOutside)
	}
	if writesLayout && readOnly(e.layoutPath) {
		return untouchable(e.layoutPath)
	}
	if writesPlan && readOnly(e.path) {
		return untouchable(e.path)
	}
	// The layout first: beside a plan that is not yet written it still can be read.
	if writesLayout {
		if err := e.write(ctx, e.layoutPath, layout); err != nil {
			return err
		}
		now.layout = now.layout.written(layout, of.layout)
		e.files.layout = now.layout
	}
	if writesPlan {
		if err := e.write(ctx, e.path, e.shown.Text); err != nil {
			return err
		}
		now.plan = now.plan.written(e.shown.Text, of.plan)
	}
	e.settle(now)
	return nil
}

// readOnly reports whether somebody made a file so that it is not to be written. One could be put in its place all the same.
func readOnly(path string) bool {
	info, err := os.Stat(path)
	return err == nil && info.Mode().Perm()&0o222 == 0
}

func untouchable(path string) error {
	return fmt.Errorf("%s is read-only, and is left as it is; nothing is lost: allow writing to it, and save again", filepath.Base(path))
}

// write writes a text into a file, whole or not at all.
func (e *Easel) write(ctx context.Context, path string, text []byte) error {
	err := e.replace(ctx, path, func(w io.Writer) error {
		_, err := w.Write(text)
		return err
	})
	if err != nil {
		return fmt.Errorf("%s is not saved: %w; nothing is lost: put that right, and save again", filepath.Base(path), err)
	}
	return nil
}

// settle makes what is shown stand to the files as they are now, which can be shown or are gone.
func (e *Easel) settle(now files) {
	e.files, e.faults = now, nil
	e.meet()
}

// meet has the step that is shown go back to what the files hold, where that is just what is shown. It is called whenever
// another step is shown, and whenever the files were seen.
func (e *Easel) meet() {
	of := e.steps.of(e.at)
	if same(e.shown.Text, e.files.plan.text) {
		of.plan, e.files.plan.taken = e.files.plan.of, e.files.plan.of
	}
	if of.layout != e.files.layout.of && same(e.layoutOf(e.files), e.files.layout.text) {
		of.layout, e.files.layout.taken = e.files.layout.of, e.files.layout.of
	}
	e.steps.goesBackTo(e.at, of)
}

// layoutOf returns what the layout's file is to hold of what is shown; nil where there need be none.
func (e *Easel) layoutOf(now files) []byte {
	if !e.steps.byHand(e.at) && now.layout.text == nil {
		return nil
	}
	return layoutText(e.shown)
}

// unsaved returns the names of the files that do not hold what was done here.
func (e *Easel) unsaved() []string {
	var names []string
	of := e.steps.of(e.at)
	if !e.files.plan.holds(e.shown.Text, of.plan) {
		names = append(names, filepath.Base(e.path))
	}
	if layout := e.layoutOf(e.files); layout != nil && !e.files.layout.holds(layout, of.layout) {
		names = append(names, filepath.Base(e.layoutPath))
	}
	return names
}

// layoutText returns a layout as its file holds it.
func layoutText(s *Shown) []byte {
	var text bytes.Buffer
	if err := layoutfile.Write(&text, s.Work); err != nil {
		return nil // a place that is no number, which reading and laying do not give
	}
	return text.Bytes()
}
