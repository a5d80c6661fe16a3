package main

import (
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"wallshoal/cmd/wallshoal/job"
	"wallshoal/cmd/wallshoal/plan"
	"wallshoal/scatter"
)

// open reads the plan at path, "-" being the standard input, and surveys its room.
func (d desk) open(path string) (job.Job, error) {
	data, err := d.read(path, plan.MaxBytes)
	if err != nil {
		return job.Job{}, err
	}
	if path == "-" {
		return job.Read("standard input", data)
	}
	folder, err := os.OpenRoot(filepath.Dir(path))
	if err != nil {
		return job.Job{}, unreadable(filepath.Dir(path), err)
	}
	defer folder.Close()
	return job.ReadBeside(path, data, folder.FS())
}

// read returns what is in a file that may hold so many bytes, and one byte more of a longer one, so
// that whoever checks the length can complain of it.
func (d desk) read(path string, most int64) ([]byte, error) {
	if path == "-" {
		return io.ReadAll(io.LimitReader(d.in, most+1))
	}
	file, err := os.Open(path)
	if err != nil {
		return nil, unreadable(path, err)
	}
	defer file.Close()
	data, err := io.ReadAll(io.LimitReader(file, most+1))
	if err != nil {
		return nil, unreadable(path, err)
	}
	return data, nil
}

func unreadable(path string, err error) error {
	return fmt.Errorf("%q cannot be read: %w", path, job.Cause(err))
}

func unwritable(path string, err error) error {
	return fmt.Errorf("%q cannot be written: %w", path, job.Cause(err))
}

// compose composes a job's layout, and shows how far it is where that takes long.
func (d desk) compose(ctx context.Context, j job.Job, seed uint64) (scatter.Layout, error) {
	return d.composeFrom(ctx, j, start{}, seed)
}

// composeFrom is compose round what stays where it is.
func (d desk) composeFrom(ctx context.Context, j job.Job, start start, seed uint64) (scatter.Layout, error) {
	d.meter.Begin("pieces placed")
	defer d.meter.Clear()
	if start.mend {
		return j.Mend(ctx, start.from, start.fixed, seed, d.meter.Step)
	}
	return j.LayFrom(ctx, start.Start, seed, d.meter.Step)
}
