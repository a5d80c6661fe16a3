package progress

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"sync"
	"time"

	"wallshoal/export/folder"
)

// ErrChanged says that a file is no longer as this program last read or wrote it.
var ErrChanged = errors.New("was changed meanwhile by somebody else")

// A Log is a progress file that is being added to. Its methods may be called from several goroutines
// at once. Two programs are not to have one file open; where another adds to it nevertheless, this one
// notices at the next tick and stops.
type Log struct {
	mu    sync.Mutex
	path  string
	disk  disk
	same  func() error // says whether the file is still at its place and as long as it was
	size  int64
	state *state
	spent error // why nothing more can be added
}

// A disk is what a Log needs of its file, which is open for adding.
type disk interface {
	io.WriteCloser
	Sync() error
	Truncate(size int64) error
}

// Open opens a progress file to add to it, and makes it where there is none. A last line that a power
// failure tore is taken off; the record tells how long it was. A folder, a link, and a file that is not of
// this package are left as they are.
func Open(ctx context.Context, path string) (*Log, error) {
	info, err := os.Lstat(path)
	if errors.Is(err, fs.ErrNotExist) {
		err = folder.WriteFile(ctx, path, func(w io.Writer) error {
			_, err := io.WriteString(w, header)
			return err
		})
		if err != nil {
			return nil, err
		}
		info, err = os.Lstat(path)
	}
	switch {
	case err != nil:
		return nil, fmt.Errorf("%q cannot be opened: %w", path, plain(err))
	case !info.Mode().IsRegular():
		return nil, fmt.Errorf("%q is a folder, a link or a device; name a file itself", path)
	}
	file, err := os.OpenFile(path, os.O_RDWR|os.O_APPEND, 0)
	if err != nil {
		return nil, fmt.Errorf("%q cannot be opened: %w", path, plain(err))
	}
	l := &Log{path: path, disk: file}
	l.same = func() error { return sameFile(path, file, l.size) }
	if err := l.load(file); err != nil {
		file.Close()
		return nil, err
	}
	return l, nil
}

// load reads the file, and makes its last line whole or takes it off.
func (l *Log) load(file *os.File) error {
	data, err := io.ReadAll(io.LimitReader(file, MaxBytes+1))
	if err != nil {
		return fmt.Errorf("%q cannot be read: %w", l.path, plain(err))
	}
	state, whole, err := read(l.path, data)
	if err != nil {
		return err
	}
	l.state, l.size = state, int64(whole)
	if rest := unfilled(data[whole:]); len(rest) > MaxLine {
		return fmt.Errorf("%q ends with %d bytes that are not of this program; remove them, or name another file", l.path, len(rest))
	}
	if whole == len(data) && data[whole-1] == '\n' {
		return nil
	}
	err = file.Truncate(l.size)
	if err == nil && data[whole-1] != '\n' {
		_, err = file.WriteString("\n")
		l.size++
	}
	if err == nil {
		err = file.Sync()
	}
	if err != nil {
		return fmt.Errorf("the end of %q cannot be mended: %w", l.path, plain(err))
	}
	return nil
}

// sameFile says where the file at path is no longer the open one, or not as long.
func sameFile(path string, file *os.File, size int64) error {
	there, err := os.Lstat(path)
	if err != nil {
		return fmt.Errorf("%q was moved or removed; open it again", path)
	}
	open, err := file.Stat()
	if err != nil {
		return fmt.Errorf("%q cannot be read: %w", path, plain(err))
	}
	if !os.SameFile(there, open) || open.Size() != size {
		return fmt.Errorf("%q %w; open it again", path, ErrChanged)
	}
	return nil
}

// Record returns what the file says.
func (l *Log) Record() Record {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.state.record()
}

// Up ticks pieces of the layout with this fingerprint as hung. A piece that is up as it is given is passed over.
func (l *Log) Up(at time.Time, layout string, pieces ...Piece) error {
	return l.add(func() []line {
		var lines []line
		for _, p := range pieces {
			next := ofPiece(at, up, layout, p)
			if was, hangs := l.state.up[p.Holes]; !hangs || was.Piece != next.piece() || was.Layout != layout {
				lines = append(lines, next)
			}
		}
		return lines
	})
}

// Down takes ticks back: the pieces were taken down, or were never hung. A piece that is not up is passed over.
func (l *Log) Down(at time.Time, layout string, pieces ...Piece) error {
	return l.add(func() []line {
		var lines []line
		for _, p := range pieces {
			if _, hangs := l.state.up[p.Holes]; hangs {
				lines = append(lines, ofPiece(at, down, layout, p))
			}
		}
		return lines
	})
}

// Leave says that pieces, which are given by the marks of their holes, were taken down because a later layout has others: their
// holes stay drilled. One that is not up is passed over.
func (l *Log) Leave(at time.Time, layout string, holes ...string) error {
	return l.add(func() []line {
		var lines []line
		for _, mark := range holes {
			if was, hangs := l.state.up[mark]; hangs {
				lines = append(lines, ofPiece(at, left, layout, was.Piece))
			}
		}
		return lines
	})
}

// Begin says that so many hands are at work at a stand from now on. A stand that was finished is not
// any more.
func (l *Log) Begin(at time.Time, layout string, stand, hands int) error {
	next := lineAt(at, begin, layout)
	next.Stand, next.Hands = stand, hands
	return l.add(func() []line { return []line{next} })
}

// Pause says that work at a stand ceases, and the stand is not finished.
func (l *Log) Pause(at time.Time, layout string, stand int) error {
	next := lineAt(at, pause, layout)
	next.Stand = stand
	return l.add(func() []line { return []line{next} })
}

// End says that a stand is finished, with so many pieces and holes, whether or not somebody was at it
// until now.
func (l *Log) End(at time.Time, layout string, stand, pieces, holes int) error {
	next := lineAt(at, end, layout)
	next.Stand, next.Pieces, next.Drilled = stand, pieces, holes
	return l.add(func() []line { return []line{next} })
}

// Correct says how many minutes a stand has taken so far, of all hands together, whatever was timed: for
// when somebody forgot to say that it ended. What is timed afterwards is added.
func (l *Log) Correct(at time.Time, layout string, stand int, spent float64) error {
	next := lineAt(at, minutes, layout)
	next.Stand, next.Minutes = stand, spent
	return l.add(func() []line { return []line{next} })
}

// Close closes the file. Nothing can be added afterwards.
func (l *Log) Close() error {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.disk == nil {
		return nil
	}
	err := l.disk.Close()
	l.disk, l.spent = nil, fmt.Errorf("%q is closed", l.path)
	return plain(err)
}

// add adds lines to the file and counts them in once they are on the disk. What makes the lines is called
// with the state at rest. On an error nothing is counted, and nothing of it is left in the file unless the
// error says that the file has to be opened again.
func (l *Log) add(what func() []line) error {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.spent != nil {
		return l.spent
	}
	lines := what()
	var text []byte
	for _, next := range lines {
		wrong := next.wrong()
		if wrong == "" {
			wrong = l.state.wrong(next)
		}
		if wrong != "" {
			return fmt.Errorf("the record %s; nothing is recorded", wrong)
		}
		one, err := next.text()
		if err != nil {
			return err
		}
		text = append(text, one...)
	}
	switch {
	case len(text) == 0:
		return nil
	case l.size+int64(len(text)) > MaxBytes:
		return fmt.Errorf("%q would have more than %d bytes; keep it, and begin another", l.path, MaxBytes)
	}
	if err := l.same(); err != nil {
		l.spent = err
		return err
	}
	if err := l.write(text); err != nil {
		return err
	}
	for _, next := range lines {
		l.state.take(next)
	}
	return nil
}

// write writes to the disk itself. What was written only in part is taken off again. After a failed Sync
// nobody can tell what is on the disk, so nothing more is added then.
func (l *Log) write(text []byte) error {
	_, err := l.disk.Write(text)
	if err != nil {
		if undo := l.disk.Truncate(l.size); undo != nil {
			l.spent = fmt.Errorf("%q could not be written to, and has to be opened again: %w", l.path, plain(err))
			return l.spent
		}
		return fmt.Errorf("%q cannot be written to: %w", l.path, plain(err))
	}
	if err := l.disk.Sync(); err != nil {
		l.spent = fmt.Errorf("%q could not be brought to the disk, and has to be opened again: %w", l.path, plain(err))
		return l.spent
	}
	l.size += int64(len(text))
	return nil
}

// plain returns what lies under an error of a file operation, without the name of a system call.
func plain(err error) error {
	if path := (*fs.PathError)(nil); errors.As(err, &path) {
		return path.Err
	}
	return err
}
