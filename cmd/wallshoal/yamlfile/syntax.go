package yamlfile

import (
	"bytes"
	"regexp"
	"sort"
	"strconv"
	"strings"

	"gopkg.in/yaml.v3"
)

// syntax files a fault for data that the decoder could not take apart.
func (f *File) syntax(data []byte, err error) {
	line, message := reported(err)
	if at := firstBad(data); at > 0 {
		line = at
	}
	at, wrong, fix := slipNear(data, line, message)
	if wrong == "" {
		at = line
		wrong, fix = plainWords(message)
	}
	f.add(at, 1, "", wrong, fix)
}

// Slips of the hand after which the decoder blames something else.
var (
	unspaced   = regexp.MustCompile(`^[A-Za-z][\w-]*:[^\s:/]`)                // units:in
	colonless  = regexp.MustCompile(`^[A-Za-z][\w-]* +[^\s:#\[{"'|>-][^:]*$`) // kind shelf
	twiceEnded = regexp.MustCompile(`: *("[^"]*"[^\s,\]}#][^#]*)$`)           // width: "3/4""
)

// slipNear looks in the line, and in the last one before it that is not blank, for a slip that
// explains the message, and returns the line where it is. It returns no words where there is none.
func slipNear(data []byte, line int, message string) (at int, wrong, fix string) {
	lines := strings.Split(string(data), "\n")
	if line < 1 || line > len(lines) {
		return 0, "", ""
	}
	before := line - 1
	for before > 0 && blank([]byte(lines[before-1])) {
		before--
	}
	for _, n := range []int{line, before} {
		if n < 1 {
			continue
		}
		text := strings.TrimSpace(withoutRemark(lines[n-1]))
		text = strings.TrimLeft(strings.TrimPrefix(text, "- "), " ")
		key, rest, _ := strings.Cut(text, ":")
		switch {
		case unspaced.MatchString(text):
			return n, "there is no space after the colon", spaced(key, rest)
		case n == line && twiceEnded.MatchString(text):
			value := twiceEnded.FindStringSubmatch(text)[1]
			return n, "the quotation marks close before the end of the value", quotedAnew(key, value)
		case colonless.MatchString(text) && (n == before && strings.Contains(message, "mapping values") || n == line && strings.Contains(message, "expected ':'")):
			key, rest, _ := strings.Cut(text, " ")
			return n, "there is no colon after " + clean(key), "write " + clean(key) + ": " + clean(strings.TrimSpace(rest))
		}
	}
	return 0, "", ""
}

// quotedAnew says how to write a value that has quotation marks of its own, such as those of inches.
func quotedAnew(key, value string) string {
	inner := strings.TrimPrefix(value, `"`)
	if !strings.Contains(inner, "'") && strings.HasSuffix(inner, `""`) {
		return "write " + clean(key) + ": '" + clean(strings.TrimSuffix(inner, `"`)) + "', or leave out the quotation marks round it"
	}
	return "leave out the quotation marks round it, or write those inside it as \\\""
}

// withoutRemark returns the line up to a # that starts a remark.
func withoutRemark(line string) string {
	if i := strings.Index(line, " #"); i >= 0 {
		return line[:i]
	}
	return line
}

// spaced says to write a space after the colon.
func spaced(key, value string) string {
	return strings.TrimRight("write "+clean(key)+": "+clean(strings.TrimSpace(value)), " ")
}

var atLine = regexp.MustCompile(`^(?:yaml: )?(?:line (\d+): )?(.*)`)

// reported returns the line and the message of an error of the decoder.
func reported(err error) (line int, message string) {
	first, _, _ := strings.Cut(err.Error(), "\n")
	parts := atLine.FindStringSubmatch(first)
	line, _ = strconv.Atoi(parts[1])
	return line, parts[2]
}

// firstBad returns the first line that cannot be read after those above it, or 0 where that takes
// too long to find. The decoder itself names the line where the broken part begins, which may be
// far above.
func firstBad(data []byte) int {
	const most = 1 << 18 // bytes
	if len(data) > most {
		return 0
	}
	lines := bytes.SplitAfter(data, []byte("\n"))
	ends := make([]int, len(lines)+1)
	for i, line := range lines {
		ends[i+1] = ends[i] + len(line)
	}
	fails := func(k int) bool {
		doc, err := decode(yaml.NewDecoder(bytes.NewReader(data[:ends[k]])))
		return doc == nil && err != nil && !strings.HasSuffix(err.Error(), "EOF")
	}
	last := lastSound(len(lines), len(data), fails)
	for last < len(lines)-1 && blank(lines[last]) {
		last++
	}
	return min(last+1, len(lines))
}

// lastSound returns the greatest number of lines, below n, that can be read by themselves. In a
// short file it tries them all from the end; in a long one it halves, which may stop inside a
// value that runs over several lines.
func lastSound(n, size int, fails func(k int) bool) int {
	if n*size < 1<<23 {
		for k := n - 1; k > 0; k-- {
			if !fails(k) {
				return k
			}
		}
		return 0
	}
	return max(sort.Search(n, fails)-1, 0)
}

func blank(line []byte) bool {
	text := bytes.TrimSpace(line)
	return len(text) == 0 || text[0] == '#'
}

// plainWords returns what a message of the decoder means to somebody who writes plans.
func plainWords(message string) (wrong, fix string) {
	for _, w := range []struct{ part, wrong, fix string }{
		{"mapping values are not allowed", "a colon stands where no value can begin",
			"line the keys up with those above, and put text that holds a colon and a space in quotation marks"},
		{"found a tab character", "the line is indented with a tab", "indent with spaces"},
		{"cannot start any token", "the value starts with a character that has a meaning of its own, or with a tab",
			"put the value in quotation marks, and indent with spaces"},
		{"unknown escape character", "a backslash in quotation marks starts nothing known",
			"write it twice, or use single quotation marks"},
		{"unexpected end of stream", "quotation marks that open here are never closed", "close them on the same line"},
		{"expected ',' or ']'", "a list in brackets is not closed, or lacks a comma", "write it like [400, 300]"},
		{"expected ',' or '}'", "a map in braces is not closed, or lacks a comma", "write it like {wall: Long wall, at: [400, 300]}"},
		{"expected '-' indicator", "the line does not fit the list above it",
			"start each item with a dash, in line with the dashes above"},
		{"block sequence entries are not allowed", "a dash starts a list where none can stand",
			"put the list on the lines below its key"},
		{"expected key", "the line is not lined up with the lines above it", "give the keys of one map the same number of spaces before them"},
		{"could not find expected ':'", "the line has no colon after its key", "write it like title: My wall"},
		{"unknown anchor", "* repeats a part of the file that has no such name", "write it out, and put text that starts with * in quotation marks"},
		{"undefined tag handle", "! starts a type tag", "put text that starts with ! in quotation marks"},
		{"max depth", "maps and lists stand too deep within one another", "write it flatter"},
		{"document start", "the line belongs to no part of the file", "line it up with the lines above it"},
		{"directive", "% starts an instruction to a program", "put text that starts with % in quotation marks"},
		{"anchor", "& or * stands without a name", "put text that starts with & or * in quotation marks"},
	} {
		if strings.Contains(message, w.part) {
			return w.wrong, w.fix
		}
	}
	return "the file cannot be read here (" + clean(message) + ")", "check colons, quotation marks and the spaces before the line"
}
