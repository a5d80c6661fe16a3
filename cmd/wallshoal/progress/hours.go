package progress

import (
	"bytes"
	"context"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"slices"
	"strconv"
	"strings"
	"time"

	"golang.org/x/text/unicode/norm"

	"wallshoal/export/folder"
	"wallshoal/export/hours"
	"wallshoal/export/table"
)

// Hours returns what the finished stands of all layouts took as rows of a log of hours, for an operation
// that counts pieces or holes: one row for all of them together, as the log wants it of a whole job; or
// byStand a row each, named after the job, the stand and the layout, where every stand is to count as a
// job of its own. Stands without a time or without units, and those with a span longer than MaxSpan, which
// somebody forgot to end, are left out; the notes say which.
func (r Record) Hours(job, operation string, per hours.Per, byStand bool) (rows []hours.Record, notes []string, err error) {
	if per != hours.Piece && per != hours.Hole {
		return nil, nil, fmt.Errorf("hanging is counted by the %s or the %s, not by the %q", hours.Piece, hours.Hole, per)
	}
	all := hours.Record{Job: job, Operation: operation}
	for _, s := range r.Stands {
		if !s.Done {
			continue
		}
		units := s.Pieces
		if per == hours.Hole {
			units = s.Holes
		}
		name := fmt.Sprintf("stand %d of %s", s.Number, s.Layout)
		spent := tenths(s.Minutes())
		switch {
		case s.Longest() > MaxSpan:
			notes = append(notes, fmt.Sprintf("%s is left out: somebody was there %s without a break; give the minutes that it took",
				name, s.Longest().Round(time.Minute)))
		case spent == 0:
			notes = append(notes, name+" is left out: it has no time")
		case units == 0:
			notes = append(notes, fmt.Sprintf("%s is left out: it has no %ss", name, per))
		case byStand:
			rows = append(rows, hours.Record{Job: job + ", " + name, Operation: operation, Units: float64(units), Minutes: spent})
		default:
			all.Units += float64(units)
			all.Minutes = tenths(all.Minutes + spent)
		}
	}
	if all.Units > 0 {
		rows = append(rows, all)
	}
	return rows, notes, nil
}

// tenths rounds minutes as estimates are.
func tenths(v float64) float64 { return math.Round(v*10) / 10 }

// AddHours returns a log of hours with rows added at its end: all that is in the log stays as it is, and the
// rows follow its columns and line ends. A log without any contents is begun. A row that stands in the log
// with the same figures is not added again. The error says what is wrong with the log or a row, and
// which row stands there with other figures.
func AddHours(log []byte, rows []hours.Record) ([]byte, error) {
	const name = "the log of hours"
	var was []hours.Record
	columns, ends := []string{"job", "operation", "units", "minutes"}, "\n"
	out := slices.Clone(log)
	if len(log) == 0 {
		out = []byte(strings.Join(columns, ",") + ends)
	} else {
		var err error
		if was, err = hours.Read(name, log); err != nil {
			return nil, err
		}
		columns, ends = headOf(log)
		if out[len(out)-1] != '\n' {
			out = append(out, ends...)
		}
	}
	added := 0
	for _, row := range rows {
		there, err := stands(was, row)
		if err != nil {
			return nil, err
		}
		if there {
			continue
		}
		out = append(out, cells(columns, row)+ends...)
		was = append(was, row)
		added++
	}
	if added == 0 {
		return slices.Clone(log), nil
	}
	now, err := hours.Read(name, out)
	if err != nil {
		return nil, err
	}
	if !slices.EqualFunc(was, now, alike) {
		return nil, errors.New("the rows would read differently in the log of hours; give job and operation plainer names")
	}
	return out, nil
}

// stands reports whether a row is among the records of a log, and fails where it is with other figures.
func stands(was []hours.Record, row hours.Record) (bool, error) {
	for _, w := range was {
		if hours.Same(w.Job) != hours.Same(row.Job) || hours.Same(w.Operation) != hours.Same(row.Operation) {
			continue
		}
		if w.Units != row.Units || w.Minutes != row.Minutes {
			return false, fmt.Errorf("%q of %q stands in line %d of the log of hours with %g units and %g minutes, and not with %g and %g; "+
				"remove that line, or give the job another name", row.Operation, row.Job, w.Line, w.Units, w.Minutes, row.Units, row.Minutes)
		}
		return true, nil
	}
	return false, nil
}

// alike reports whether two records say the same, wherever they stand.
func alike(a, b hours.Record) bool {
	return norm.NFC.String(a.Job) == norm.NFC.String(b.Job) && norm.NFC.String(a.Operation) == norm.NFC.String(b.Operation) &&
		a.Units == b.Units && a.Minutes == b.Minutes
}

// headOf returns the columns of a log that hours.Read accepts, and how its first row ends.
func headOf(log []byte) (columns []string, ends string) {
	text := strings.TrimPrefix(string(log), "\ufeff")
	ends = "\n"
	if i := strings.IndexByte(text, '\n'); i > 0 && text[i-1] == '\r' {
		ends = "\r\n"
	}
	in := csv.NewReader(strings.NewReader(text))
	in.FieldsPerRecord = -1
	for {
		row, err := in.Read()
		if err != nil {
			return nil, ends
		}
		if strings.TrimSpace(strings.Join(row, "")) == "" {
			continue
		}
		for _, c := range row {
			columns = append(columns, strings.ToLower(strings.TrimSpace(c)))
		}
		return columns, ends
	}
}

// cells returns a row under the columns, without its line end.
func cells(columns []string, row hours.Record) string {
	figure := func(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
	var values []string
	for _, c := range columns {
		switch c {
		case "job":
			values = append(values, table.Safe(row.Job))
		case "operation":
			values = append(values, table.Safe(row.Operation))
		case "units":
			values = append(values, figure(row.Units))
		case "minutes":
			values = append(values, figure(row.Minutes))
		}
	}
	var b strings.Builder
	w := csv.NewWriter(&b)
	w.Write(values) // a strings.Builder takes everything
	w.Flush()
	return strings.TrimRight(b.String(), "\r\n")
}

// WriteHours adds rows to the log of hours at path, which the caller has read as seen; nil where there was
// no such file. It is replaced as a whole or stays as it is, and a log that is no longer as it was seen is never written over: the
// error is ErrChanged then, or folder.ErrThere where a file has come to stand there.
func WriteHours(ctx context.Context, path string, seen []byte, rows []hours.Record) error {
	out, err := AddHours(seen, rows)
	if err != nil || bytes.Equal(out, seen) {
		return err
	}
	if seen == nil {
		return folder.WriteFile(ctx, path, func(w io.Writer) error {
			_, err := w.Write(out)
			return err
		})
	}
	return folder.ReplaceFile(ctx, path, func(w io.Writer) error {
		if _, err := w.Write(out); err != nil {
			return err
		}
		now, err := os.ReadFile(path)
		if err != nil || !bytes.Equal(now, seen) { // asked as late as can be
			return ErrChanged
		}
		return nil
	})
}
