package yamledit

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"unicode/utf8"

	"gopkg.in/yaml.v3"

	"wallshoal/cmd/wallshoal/yamlfile"
	"wallshoal/wall"
)

// mark is the byte order mark.
const mark = "\ufeff"

// A document is a text with what stands where in it. Offsets are bytes of the text.
type document struct {
	text  []byte
	root  *yaml.Node
	lines []int // where each line begins; the first after the byte order mark
	spans map[*yaml.Node]span
	own   map[*yaml.Node]bool // has an anchor or a tag of its own

	leaves   []span // of what no comment can stand in, in order
	comments []span // in order

	line, column, at int // the last place that was looked up
}

// A span is a part of the text, from its first byte to before its end.
type span struct{ start, end int }

func (s span) holds(i int) bool { return s.start <= i && i < s.end }

// whole says that a fault is of the file as a whole.
func whole(wrong, fix string) error { return wall.Problem{Field: "the file", Wrong: wrong, Fix: fix} }

// open reads a text.
func open(text []byte) (*document, error) {
	d := &document{text: text, spans: map[*yaml.Node]span{}, own: map[*yaml.Node]bool{}}
	if len(text) > yamlfile.MaxBytes {
		return nil, whole(fmt.Sprintf("has %d bytes", len(text)), fmt.Sprintf("keep it within %d", yamlfile.MaxBytes))
	}
	if yamlfile.Separators(text) > yamlfile.MaxValues {
		return nil, whole(fmt.Sprintf("has more than %d values", yamlfile.MaxValues), "split the work over several plans")
	}
	start := 0
	if bytes.HasPrefix(text, []byte(mark)) {
		start = len(mark)
	}
	if err := readable(text[start:]); err != nil {
		return nil, err
	}
	d.lines = []int{start}
	for i := start; i < len(text); i++ {
		if n := d.lineEnd(i); n > 0 {
			i += n - 1
			d.lines = append(d.lines, i+1)
		}
	}
	if err := d.decode(text[start:]); err != nil {
		return nil, err
	}
	if err := d.locate(); err != nil {
		return nil, err
	}
	d.comments = d.findComments()
	return d, nil
}

// readable says where text holds what is no visible character, blank or line end.
func readable(text []byte) error {
	for i, r := range string(text) {
		bad := yamlfile.Hidden(r) && r != '\n' && r != '\r' && r != '\t'
		if r == utf8.RuneError {
			_, size := utf8.DecodeRune(text[i:])
			bad = size == 1
		}
		if bad {
			return whole(fmt.Sprintf("has a hidden character or no text in line %d", 1+bytes.Count(text[:i], []byte("\n"))), "remove it")
		}
	}
	return nil
}

// decode reads the text into a tree of nodes.
func (d *document) decode(text []byte) (err error) {
	defer func() { // the reader is known to panic on some texts that are not YAML
		if r := recover(); r != nil {
			err = whole(fmt.Sprintf("cannot be read (%v)", r), "correct it by hand")
		}
	}()
	in := yaml.NewDecoder(bytes.NewReader(text))
	var first, second yaml.Node
	if err := in.Decode(&first); err != nil && !errors.Is(err, io.EOF) {
		return whole(fmt.Sprintf("cannot be read (%v)", err), "correct it by hand")
	}
	if len(first.Content) == 0 || first.Content[0].Kind != yaml.MappingNode {
		return whole("holds no keys and values", "start from one that `wallshoal new` writes")
	}
	if err := in.Decode(&second); !errors.Is(err, io.EOF) {
		return whole("holds a second document", "keep one document to a file")
	}
	d.root = first.Content[0]
	return nil
}

// lineEnd returns how many bytes the line end at i has, or 0 where there is none.
func (d *document) lineEnd(i int) int {
	switch {
	case i < len(d.text) && d.text[i] == '\n':
		return 1
	case i < len(d.text) && d.text[i] == '\r':
		if i+1 < len(d.text) && d.text[i+1] == '\n' {
			return 2
		}
		return 1
	}
	return 0
}

// endOfLine returns where the line that holds i ends, before its line end.
func (d *document) endOfLine(i int) int {
	for i < len(d.text) && d.lineEnd(i) == 0 {
		i++
	}
	return i
}

// startOfLine returns where the line that holds i begins.
func (d *document) startOfLine(i int) int { return d.lines[d.lineOf(i)] }

// lineOf returns which line holds i, from 0.
func (d *document) lineOf(i int) int {
	low, high := 0, len(d.lines)
	for high-low > 1 {
		if middle := (low + high) / 2; d.lines[middle] <= i {
			low = middle
		} else {
			high = middle
		}
	}
	return low
}

// columnOf returns how many characters stand before i in its line.
func (d *document) columnOf(i int) int { return utf8.RuneCount(d.text[d.startOfLine(i):i]) }

// offset returns where the character at a line and column stands, both from 1, as the reader counts them.
func (d *document) offset(line, column int) (int, bool) {
	if line < 1 || line > len(d.lines) || column < 1 {
		return 0, false
	}
	if line != d.line || column < d.column {
		d.line, d.column, d.at = line, 1, d.lines[line-1]
	}
	for ; d.column < column; d.column++ {
		if d.at >= len(d.text) || d.lineEnd(d.at) > 0 {
			return 0, false
		}
		_, size := utf8.DecodeRune(d.text[d.at:])
		d.at += size
	}
	return d.at, true
}

// byteAt returns the byte at i, or 0 beyond the text.
func (d *document) byteAt(i int) byte {
	if i < 0 || i >= len(d.text) {
		return 0
	}
	return d.text[i]
}

func blank(c byte) bool { return c == ' ' || c == '\t' }

// skip returns the first place from i on that is no blank, no line end, no part of a comment, and none of
// the marks.
func (d *document) skip(i int, marks string) int {
	for i < len(d.text) {
		c := d.text[i]
		switch {
		case blank(c) || c == '\n' || c == '\r' || bytes.IndexByte([]byte(marks), c) >= 0:
			i++
		case c == '#' && d.opensComment(i):
			i = d.endOfLine(i)
		default:
			return i
		}
	}
	return i
}

// opensComment reports whether a # at i begins a comment.
func (d *document) opensComment(i int) bool {
	if i == d.lines[0] {
		return true
	}
	c := d.byteAt(i - 1)
	return blank(c) || c == '\n' || c == '\r'
}

// findComments returns the comments: what begins with a # between the leaves.
func (d *document) findComments() []span {
	var found []span
	at := d.lines[0]
	for n := 0; n <= len(d.leaves); n++ {
		until, next := len(d.text), len(d.text)
		if n < len(d.leaves) {
			until, next = d.leaves[n].start, d.leaves[n].end
		}
		for i := at; i < until; i++ {
			if d.text[i] == '#' && d.opensComment(i) {
				end := d.endOfLine(i)
				found = append(found, span{i, end})
				i = end
			}
		}
		at = max(at, next)
	}
	return found
}

// commentsIn returns the comments that begin in a span.
func (d *document) commentsIn(s span) []span {
	var in []span
	for _, c := range d.comments {
		if s.holds(c.start) {
			in = append(in, c)
		}
	}
	return in
}
