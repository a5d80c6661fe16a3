package folder

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
)

// ErrThere says that a file stands where one was to be written.
var ErrThere = errors.New("is there already, and is left as it is")

// WriteFile writes one new file whole or not at all, and returns the first error. It never writes
// over a file that is there.
func WriteFile(ctx context.Context, path string, write func(io.Writer) error) error {
	return writeFile(ctx, path, write, func(path string) error {
		if _, err := os.Lstat(path); err == nil {
			return fmt.Errorf("%q %w; name another file", path, ErrThere)
		} else if !errors.Is(err, fs.ErrNotExist) {
			return fmt.Errorf("%q cannot be written: %w", path, plain(err))
		}
		return nil
	})
}

// ReplaceFile writes one file whole or not at all, in the place of the one that is there if any,
// and returns the first error. A folder or a link is never replaced.
func ReplaceFile(ctx context.Context, path string, write func(io.Writer) error) error {
	return writeFile(ctx, path, write, func(path string) error {
		info, err := os.Lstat(path)
		switch {
		case errors.Is(err, fs.ErrNotExist):
			return nil
		case err != nil:
			return fmt.Errorf("%q cannot be written: %w", path, plain(err))
		case info.IsDir():
			return fmt.Errorf("%q is a folder; name a file", path)
		case !info.Mode().IsRegular():
			return fmt.Errorf("%q is a link or a device; name a file itself", path)
		}
		return nil
	})
}

// writeFile writes a file beside its place and moves it there. Whether the place is free is asked
// before the work, so that nobody waits for nothing, and again before the move.
func writeFile(ctx context.Context, path string, write func(io.Writer) error, free func(string) error) error {
	if path == "" {
		return errors.New("no file is named")
	}
	abs, err := filepath.Abs(path)
	if err != nil {
		return fmt.Errorf("cannot find %q: %w", path, plain(err))
	}
	if err := needParent(abs); err != nil {
		return err
	}
	if err := free(abs); err != nil {
		return err
	}
	s, err := newStage(abs)
	if err != nil {
		return err
	}
	defer s.discard()
	if _, err := writeOne(ctx, s.fresh(), write); err != nil {
		return fmt.Errorf("writing %s: %w", filepath.Base(abs), err)
	}
	if err := free(abs); err != nil {
		return err
	}
	if err := os.Rename(s.fresh(), abs); err != nil {
		return fmt.Errorf("%q cannot be written: %w", abs, plain(err))
	}
	syncFolder(filepath.Dir(abs))
	return nil
}
