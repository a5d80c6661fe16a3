package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// TestScripts plays the scripts in testdata: command lines and what comes of them, as they would
// stand in a manual. Each is played in a folder of its own.
//
//	# a remark
//	$ wallshoal new hall.yaml          a command line; quotation marks hold words together
//	wrote hall.yaml                    what it writes to the standard output
//	! wallshoal: …                     what it writes to the error output
//	? 1                                its exit status, where it is not 0
//	= hall.yaml: old text -> new text  a change of a file
//	+ hall.yaml                        a file that must be there
//	- hall                             one that must not
//
// An … stands for any text within a line, and a line of nothing else for any lines.
func TestScripts(t *testing.T) {
	scripts, err := filepath.Glob("testdata/*.txt")
	require.NoError(t, err)
	require.NotEmpty(t, scripts)
	for _, file := range scripts {
		text, err := os.ReadFile(file)
		require.NoError(t, err)
		t.Run(strings.TrimSuffix(filepath.Base(file), ".txt"), func(t *testing.T) {
			t.Chdir(t.TempDir())
			p := player{t: t, file: file}
			for i, line := range strings.Split(string(text), "\n") {
				p.play(i+1, line)
			}
			p.settle()
		})
	}
}

// A player plays a script line by line. What a command wrote is compared once the next begins.
type player struct {
	t         *testing.T
	file      string
	at        int // line of the command
	status    int
	out, errs string
	wantExit  int
	want      []string // of the standard output
	wantErrs  []string
	running   bool
}

func (p *player) play(n int, line string) {
	mark, rest := line, ""
	if len(line) > 1 {
		mark, rest = line[:2], line[2:]
	}
	switch mark {
	case "# ":
	case "$ ":
		p.settle()
		p.run(n, rest)
	case "! ":
		p.wantErrs = append(p.wantErrs, rest)
	case "? ":
		_, err := fmt.Sscan(rest, &p.wantExit)
		require.NoError(p.t, err, "%s:%d", p.file, n)
	case "= ":
		p.settle()
		p.change(n, rest)
	case "+ ":
		p.settle()
		require.FileExists(p.t, rest, "%s:%d", p.file, n)
	case "- ":
		p.settle()
		require.NoFileExists(p.t, rest, "%s:%d", p.file, n)
		require.NoDirExists(p.t, rest, "%s:%d", p.file, n)
	default:
		p.want = append(p.want, line)
	}
}

func (p *player) run(n int, line string) {
	args := words(line)
	require.Equal(p.t, "wallshoal", args[0], "%s:%d", p.file, n)
	var out, errs bytes.Buffer
	p.status = run(args[1:], strings.NewReader(""), &out, &errs)
	p.at, p.out, p.errs, p.running = n, out.String(), errs.String(), true
}

func (p *player) change(n int, line string) {
	file, rest, ok := strings.Cut(line, ": ")
	from, to, ok2 := strings.Cut(rest, " -> ")
	require.True(p.t, ok && ok2, "%s:%d", p.file, n)
	before, err := os.ReadFile(file)
	require.NoError(p.t, err)
	require.Contains(p.t, string(before), from, "%s:%d", p.file, n)
	require.NoError(p.t, os.WriteFile(file, []byte(strings.Replace(string(before), from, to, 1)), 0o666))
}

// settle compares what the last command did with what the script says.
func (p *player) settle() {
	if p.running {
		where := fmt.Sprintf("%s:%d", p.file, p.at)
		require.Regexp(p.t, pattern(p.wantErrs), p.errs, "error output of %s", where)
		require.Regexp(p.t, pattern(p.want), p.out, "output of %s", where)
		require.Equal(p.t, p.wantExit, p.status, "exit status of %s", where)
	}
	p.running, p.want, p.wantErrs, p.wantExit = false, nil, nil, 0
}

// pattern returns the expression that the lines stand for. Blank lines at the end do not count.
func pattern(lines []string) *regexp.Regexp {
	for len(lines) > 0 && lines[len(lines)-1] == "" {
		lines = lines[:len(lines)-1]
	}
	var b strings.Builder
	b.WriteString(`\A`)
	for _, line := range lines {
		if line == "…" {
			b.WriteString(`(?:.*\n)*?`)
			continue
		}
		b.WriteString(strings.ReplaceAll(regexp.QuoteMeta(line), "…", ".*") + `\n`)
	}
	b.WriteString(`\n*\z`)
	return regexp.MustCompile(b.String())
}

// words splits a command line at its spaces, but not between quotation marks.
func words(line string) []string {
	var out []string
	for i, part := range strings.Split(line, `"`) {
		if i%2 == 1 {
			out = append(out, part)
			continue
		}
		out = append(out, strings.Fields(part)...)
	}
	return out
}
