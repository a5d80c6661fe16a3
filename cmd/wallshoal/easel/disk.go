package easel

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"wallshoal/cmd/wallshoal/job"
	"wallshoal/cmd/wallshoal/layoutfile"
	"wallshoal/export/folder"
)

// A disk is what the files hold; nil for one that is not there.
type disk struct{ plan, layout []byte }

func (e *Easel) readDisk() (disk, error) {
	var d disk
	var err error
	if d.plan, err = contentsOf(e.path, MaxBytes); err != nil {
		return d, err
	}
	d.layout, err = contentsOf(e.layoutPath, layoutfile.MaxBytes)
	return d, err
}

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

func contents(data []byte) func(io.Writer) error {
	return func(w io.Writer) error {
		_, err := w.Write(data)
		return err
	}
}

// Save writes the plan, and the layout where hands were at it or where it has a file. Where a file was
// changed by somebody else meanwhile it is left as it is, and the error is ErrOutside, unless over
// says to write over it.
func (e *Easel) Save(ctx context.Context, over bool) error {
	e.lock.Lock()
	defer e.lock.Unlock()
	found, err := e.readDisk()
	if err != nil {
		return err
	}
	var layout []byte
	if e.steps.byHand(e.at) || found.layout != nil {
		layout = e.layoutText(e.shown)
	}
	writesPlan := !bytes.Equal(e.shown.Text, found.plan)
	writesLayout := layout != nil && !bytes.Equal(layout, found.layout)
	switch {
	case over:
	case writesPlan && !bytes.Equal(found.plan, e.disk.plan):
		return fmt.Errorf("%s %w", filepath.Base(e.path), ErrOutside)
	case writesLayout && !bytes.Equal(found.layout, e.disk.layout):
		return fmt.Errorf("%s %w", filepath.Base(e.layoutPath), ErrOutside)
	}
	// The layout first: beside a plan that is not yet written it still can be read.
	if writesLayout {
		if err := folder.ReplaceFile(ctx, e.layoutPath, contents(layout)); err != nil {
			return err
		}
		found.layout = layout
	}
	if writesPlan {
		if err := folder.ReplaceFile(ctx, e.path, contents(e.shown.Text)); err != nil {
			return err
		}
		found.plan = e.shown.Text
	}
	e.disk, e.outside, e.faults = found, Same, nil
	return nil
}
