package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/examples"
)

// logged writes the demonstration with another log beside it, and returns the plan's path.
func logged(t *testing.T, name, log string) string {
	t.Helper()
	dir := t.TempDir()
	path := filepath.Join(dir, "plan.yaml")
	text := strings.Replace(examples.Ferry, "\n  log: "+demoLog, "\n  log: "+name, 1)
	require.NotEqual(t, examples.Ferry, text)
	require.NoError(t, os.WriteFile(path, []byte(text), 0o666))
	require.NoError(t, os.WriteFile(filepath.Join(dir, "jobs.csv"), []byte(log), 0o666))
	return path
}

const someJobs = "job,operation,units,minutes\nStair,fold,100,200\nLobby,fold,200,400\nHall,fold,500,1000\n"

func TestALogIsReadBesideThePlan(t *testing.T) {
	var out, errs bytes.Buffer
	require.Equal(t, done, run([]string{"scope", logged(t, "jobs.csv", someJobs)}, strings.NewReader(""), &out, &errs), errs.String())
	assert.Contains(t, out.String(), "| fold | 460 pieces | logged jobs | 15 h 20 min |", "440 and 26 spares, less 6 in hand, two minutes each")
}

func TestFaultsOfALog(t *testing.T) {
	for name, c := range map[string]struct{ file, log, want string }{
		"missing":  {"other.csv", someJobs, `hours.log: "other.csv" is not there; put the log`},
		"outside":  {"../jobs.csv", someJobs, `hours.log: "../jobs.csv" leads out of the folder`},
		"a folder": {".", someJobs, `hours.log: "." is not a file; name a CSV file`},
		"spoilt":   {"jobs.csv", "job,operation,units,minutes\nStair,fold,none,200\n", "jobs.csv:2:"},
	} {
		var out, errs bytes.Buffer
		assert.Equal(t, atFault, run([]string{"scope", logged(t, c.file, c.log)}, strings.NewReader(""), &out, &errs), name)
		assert.Contains(t, errs.String(), c.want, name)
		assert.Contains(t, errs.String(), "1 fault in", name)
		assert.Empty(t, out.String(), name)
	}
	var out, errs bytes.Buffer
	plan, err := os.ReadFile(logged(t, "jobs.csv", someJobs))
	require.NoError(t, err)
	assert.Equal(t, atFault, run([]string{"check", "-"}, bytes.NewReader(plan), &out, &errs))
	assert.Contains(t, errs.String(), "hours.log: is sought beside the plan")
}
