package progress

import (
	"context"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/export/folder"
	"wallshoal/export/hours"
)

func finished() Record {
	return Record{Stands: []Stand{
		{Layout: "X", Number: 1, Spans: []Span{{after(0), after(30), 2}}, Done: true, Pieces: 12, Holes: 24},
		{Layout: "X", Number: 2, Spans: []Span{{after(40), after(60.55), 1}}, Done: true, Pieces: 5, Holes: 10},
		{Layout: "X", Number: 3, Spans: []Span{{after(70), after(90), 1}}, Pieces: 5, Holes: 10},
		{Layout: "Y", Number: 2, Said: 9.5, Done: true, Pieces: 4, Holes: 4},
		{Layout: "Y", Number: 4, Spans: []Span{{after(0), after(17 * 60), 1}}, Done: true, Pieces: 4, Holes: 4},
		{Layout: "Y", Number: 5, Done: true, Pieces: 4, Holes: 4},
		{Layout: "Y", Number: 6, Said: 3, Done: true, Pieces: 4},
	}}
}

func TestHours(t *testing.T) {
	rows, notes, err := finished().Hours("Hall", "hang", hours.Hole, false)
	require.NoError(t, err)
	assert.Equal(t, []hours.Record{{Job: "Hall", Operation: "hang", Units: 38, Minutes: 90.1}}, rows) // 60 + 20.6 + 9.5
	assert.Equal(t, []string{
		"stand 4 of Y is left out: somebody was there 17h0m0s without a break; give the minutes that it took",
		"stand 5 of Y is left out: it has no time", "stand 6 of Y is left out: it has no holes",
	}, notes)
	rows, _, err = finished().Hours("Hall", "hang", hours.Piece, true)
	require.NoError(t, err)
	assert.Equal(t, []hours.Record{
		{Job: "Hall, stand 1 of X", Operation: "hang", Units: 12, Minutes: 60},
		{Job: "Hall, stand 2 of X", Operation: "hang", Units: 5, Minutes: 20.6},
		{Job: "Hall, stand 2 of Y", Operation: "hang", Units: 4, Minutes: 9.5},
		{Job: "Hall, stand 6 of Y", Operation: "hang", Units: 4, Minutes: 3},
	}, rows)
	_, _, err = finished().Hours("Hall", "hang", hours.SquareMetre, false)
	assert.Error(t, err)
	rows, _, err = Record{}.Hours("Hall", "hang", hours.Piece, false)
	require.NoError(t, err)
	assert.Empty(t, rows)
}

// What is added is read by the reader of logs, and all that stood there is there still.
func TestAddHours(t *testing.T) {
	rows := []hours.Record{
		{Job: `Herring, "long" wall`, Operation: "hang", Units: 12, Minutes: 60.5},
		{Job: "=Hall", Operation: "drill and pin", Units: 1.5, Minutes: 0.1},
		{Job: "Ställe", Operation: "'hang", Units: 3, Minutes: 7},
	}
	for name, log := range map[string]string{
		"none": "", "head": "job,operation,units,minutes", "LF": "job,operation,units,minutes\nA,hang,5,6\n",
		"CRLF, no end": "job,operation,units,minutes\r\nA,hang,5,6", "order": "\ufeffMinutes, Units ,operation,job,\n6,5,hang,A\n\n,,,\n",
	} {
		t.Run(name, func(t *testing.T) {
			got, err := AddHours([]byte(log), rows)
			require.NoError(t, err)
			require.Equal(t, log, string(got[:len(log)]))
			var before []hours.Record
			if log != "" {
				before, err = hours.Read("log", []byte(log))
				require.NoError(t, err)
			}
			now, err := hours.Read("log", got)
			require.NoError(t, err)
			want := append(before, rows...)
			require.Len(t, now, len(want))
			for i := range want {
				want[i].Line = now[i].Line
			}
			assert.Equal(t, want, now)
			again, err := AddHours(got, rows)
			require.NoError(t, err)
			assert.Equal(t, string(got), string(again), "added once")
		})
	}
}

func TestAddHoursRefuses(t *testing.T) {
	log := []byte("job,operation,units,minutes\nHall,hang,5,6\n")
	_, err := AddHours(log, []hours.Record{{Job: "hall", Operation: "Hang", Units: 5, Minutes: 7}})
	assert.ErrorContains(t, err, "line 2")
	_, err = AddHours(log, []hours.Record{{Job: "a\nb", Operation: "hang", Units: 5, Minutes: 7}})
	assert.ErrorContains(t, err, "plainer names")
	_, err = AddHours(log, []hours.Record{{Job: "B", Operation: "hang", Units: 0, Minutes: 7}})
	assert.Error(t, err)
	_, err = AddHours([]byte("what;when\n"), []hours.Record{{Job: "B", Operation: "hang", Units: 1, Minutes: 7}})
	assert.ErrorContains(t, err, "semicolons")
}

// A log that somebody changed after it was read is left as it is.
func TestWriteHours(t *testing.T) {
	ctx, path := context.Background(), filepath.Join(t.TempDir(), "jobs.csv")
	row := func(job string) []hours.Record {
		return []hours.Record{{Job: job, Operation: "hang", Units: 5, Minutes: 6}}
	}
	require.NoError(t, WriteHours(ctx, path, nil, row("A")))
	assert.ErrorIs(t, WriteHours(ctx, path, nil, row("B")), folder.ErrThere)
	seen, err := os.ReadFile(path)
	require.NoError(t, err)
	require.NoError(t, WriteHours(ctx, path, seen, row("B")))
	assert.ErrorIs(t, WriteHours(ctx, path, seen, row("C")), ErrChanged)
	now, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, "job,operation,units,minutes\nA,hang,5,6\nB,hang,5,6\n", string(now))
	require.NoError(t, os.Remove(path))
	assert.ErrorIs(t, WriteHours(ctx, path, now, row("C")), ErrChanged)
	assert.NoFileExists(t, path)
	files, err := os.ReadDir(filepath.Dir(path))
	require.NoError(t, err)
	assert.Empty(t, files)
}

func FuzzAddHours(f *testing.F) {
	f.Add("job,operation,units,minutes\r\nA,hang,5,6", "Hall", 5.0, 6.1)
	f.Add("\ufeffunits,job,minutes,operation\n\n1,\"a\nb\",2,c", "=x,\"", 0.0, 1e7)
	f.Fuzz(func(t *testing.T, log, job string, units, minutes float64) {
		row := hours.Record{Job: job, Operation: "hang", Units: units, Minutes: minutes}
		got, err := AddHours([]byte(log), []hours.Record{row})
		if err != nil {
			return
		}
		require.Equal(t, log, string(got[:len(log)]))
		_, err = hours.Read("log", got)
		require.NoError(t, err)
	})
}
