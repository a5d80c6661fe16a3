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
	wrong, fix := plainWords(message)
	f.add(line, 1, "", wrong, fix)
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
