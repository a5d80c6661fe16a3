package yamlfile

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"maps"
	"strings"
	"unicode/utf8"

	"gopkg.in/yaml.v3"
)

// Limits of what is read. A file past one gets a message.
const (
	MaxBytes  = 4 << 20 // unless the caller says otherwise
	MaxValues = 500_000 // values in a file of MaxBytes, in proportion for larger ones
	MaxDepth  = 24      // maps and lists within one another
	MaxFaults = 200     // faults listed
)

// maxKept is how many faults are kept to be sorted; each costs time when others are compared with
// it.
const maxKept = 10 * MaxFaults

// A File is a file being read. Faults gather in it; nothing stops at the first.
type File struct {
	name   string
	lines  int
	root   *yaml.Node
	faults Faults
	spoilt []string
	untold int                 // faults past maxKept
	bad    map[*yaml.Node]bool // not to be read, and complained of
}

// Read reads the file called name, whose contents are data, of at most maxBytes bytes. It hands
// the file's map to read, which asks for what it knows and complains of what it finds wrong. The
// error is nil or Faults.
func Read(name string, data []byte, maxBytes int, read func(f *File, top Map)) error {
	f := &File{name: name, lines: 1 + lineBreaks(data), bad: map[*yaml.Node]bool{}}
	if f.open(data, maxBytes) {
		f.inspect(f.root, nil, 0)
		v := Value{file: f, node: f.root, line: f.root.Line, column: 1}
		if top, ok := v.Map(); ok {
			read(f, top)
		}
	}
	if len(f.faults) == 0 {
		return nil
	}
	return sorted(f.faults, f.untold)
}

// lineBreaks returns how many lines end in data; a carriage return may stand alone.
func lineBreaks(data []byte) int {
	return bytes.Count(data, []byte("\n")) + bytes.Count(data, []byte("\r")) - bytes.Count(data, []byte("\r\n"))
}

// Fault files a fault of the given field at the place in the file that comes nearest to it: its
// own, or that of the deepest part of its path that the file has.
func (f *File) Fault(field, wrong, fix string) {
	line, column := f.locate(field)
	f.add(line, column, field, wrong, fix)
}

// Line returns the line of the field, or of the deepest part of its path that the file has.
func (f *File) Line(field string) int {
	line, _ := f.locate(field)
	return min(max(line, 1), f.lines)
}

// Spoil says that the field could not be made out because of a fault filed of something else.
func (f *File) Spoil(field string) { f.spoilt = append(f.spoilt, field) }

// Faulty reports whether a fault has been filed of the field, of a part of it, or of what it is a
// part of, or whether the field or what it is a part of is spoilt.
func (f *File) Faulty(field string) bool {
	for _, s := range f.spoilt {
		if within(field, s) {
			return true
		}
	}
	for _, fault := range f.faults {
		if within(field, fault.Field) || within(fault.Field, field) {
			return true
		}
	}
	return false
}

// Apart runs read, and returns the faults that it files in file order in place of filing them: for what
// is read again under other conditions, so that whoever set those can be told. To read, nothing has a
// fault before it begins.
func (f *File) Apart(read func()) Faults {
	faults, spoilt, untold, bad := f.faults, f.spoilt, f.untold, f.bad
	f.faults, f.spoilt, f.untold, f.bad = nil, nil, 0, maps.Clone(bad)
	read()
	found := sorted(f.faults, f.untold)
	f.faults, f.spoilt, f.untold, f.bad = faults, spoilt, untold, bad
	return found
}

// within reports whether the path part is whole or lies under it.
func within(part, whole string) bool {
	rest, ok := strings.CutPrefix(part, whole)
	return ok && (rest == "" || rest[0] == '.' || rest[0] == '[')
}

func (f *File) add(line, column int, field, wrong, fix string) {
	if f.full() {
		f.untold++
		return
	}
	f.faults = append(f.faults, Fault{
		File: f.name, Line: min(max(line, 1), f.lines), Field: field, Wrong: wrong, Fix: fix, column: column,
	})
}

// full reports whether no further fault will be told.
func (f *File) full() bool { return len(f.faults) >= maxKept }

// open turns data into nodes and reports whether that went well.
func (f *File) open(data []byte, maxBytes int) bool {
	if !f.readable(data, maxBytes) {
		return false
	}
	data = bytes.TrimPrefix(data, []byte("\ufeff"))
	d := yaml.NewDecoder(bytes.NewReader(data))
	root, err := decode(d)
	switch {
	case errors.Is(err, io.EOF):
		f.add(1, 1, "", "the file is empty", "start from one that `wallshoal new` writes")
		return false
	case err != nil:
		f.syntax(data, err)
		return false
	}
	f.root = root.Content[0]
	if _, err := decode(d); !errors.Is(err, io.EOF) {
		f.add(lineOfSecond(data), 1, "", "a second document starts", "keep one document to a file and remove the line of three dashes or dots")
		return false
	}
	if f.root.Kind != yaml.MappingNode {
		f.add(f.root.Line, f.root.Column, "", "the file is no list of keys and values", "write lines like title: My wall")
		return false
	}
	return true
}

// decode returns the next document; a panic of the decoder comes back as an error.
func decode(d *yaml.Decoder) (doc *yaml.Node, err error) {
	defer func() {
		if r := recover(); r != nil {
			err = fmt.Errorf("yaml: %v", r)
		}
	}()
	doc = &yaml.Node{}
	if err := d.Decode(doc); err != nil {
		return nil, err
	}
	if len(doc.Content) == 0 {
		return nil, io.EOF
	}
	return doc, nil
}

// lineOfSecond returns the line where a document after the first begins.
func lineOfSecond(data []byte) int {
	seen := false
	for i, line := range strings.Split(string(data), "\n") {
		mark := strings.HasPrefix(line, "---") || strings.HasPrefix(line, "...")
		if mark && seen {
			return i + 1
		}
		text := strings.TrimSpace(line)
		seen = seen || (text != "" && text[0] != '#')
	}
	return 1
}

// readable complains of data that is too long, too crowded or no text.
func (f *File) readable(data []byte, maxBytes int) bool {
	if len(data) > maxBytes {
		f.add(1, 1, "", fmt.Sprintf("the file has %d bytes", len(data)),
			fmt.Sprintf("keep it within %d", maxBytes))
		return false
	}
	if what := noText(data); what != "" {
		f.add(1, 1, "", what, "name a text file, like the one that `wallshoal new` writes")
		return false
	}
	if i := notText(data); i >= 0 {
		line := 1 + bytes.Count(data[:i], []byte("\n"))
		r, size := utf8.DecodeRune(data[i:])
		if r == utf8.RuneError && size == 1 {
			f.add(line, 1, "", "a byte here is no UTF-8 text", "save the file as UTF-8")
		} else {
			f.add(line, 1, "", fmt.Sprintf("a hidden character (U+%04X) stands here", r), "remove it")
		}
		return false
	}
	most := int(int64(MaxValues) * int64(max(maxBytes, MaxBytes)) / MaxBytes)
	if n := Separators(data); n > most {
		f.add(1, 1, "", fmt.Sprintf("the file has more than %d values", most), "split the work over several plans")
		return false
	}
	return true
}

// noText says what data is where it is plainly no text but the file of another program.
func noText(data []byte) string {
	for _, kind := range []struct{ start, name string }{
		{"%PDF-", "a PDF"}, {"\x89PNG", "a picture"}, {"\xff\xd8\xff", "a picture"}, {"GIF8", "a picture"},
		{"PK\x03\x04", "a packed folder or an office document"}, {"\x1f\x8b", "a packed file"},
	} {
		if bytes.HasPrefix(data, []byte(kind.start)) {
			return "the file is " + kind.name + ", and neither a plan nor a layout"
		}
	}
	wide := bytes.HasPrefix(data, []byte("\xff\xfe")) || bytes.HasPrefix(data, []byte("\xfe\xff")) // UTF-16, which is text
	if bytes.IndexByte(data, 0) >= 0 && !wide {
		return "the file is no text, and neither a plan nor a layout"
	}
	return ""
}

// notText returns where the first byte stands that is no part of a visible character, space, tab
// or line break, or -1.
func notText(data []byte) int {
	for i, r := range string(data) {
		if r < utf8.RuneSelf && (r >= ' ' || r == '\n' || r == '\t' || r == '\r') && r != 0x7f {
			continue
		}
		if r == '\ufeff' && i == 0 {
			continue
		}
		if r == utf8.RuneError {
			if _, size := utf8.DecodeRune(data[i:]); size == 1 {
				return i
			}
		}
		if Hidden(r) {
			return i
		}
	}
	return -1
}

// Hidden reports whether r is a character that cannot be seen and has no place in a name: a
// control, a line separator, a mark that turns the direction of writing, or no character at all.
func Hidden(r rune) bool {
	switch {
	case r < ' ', 0x7f <= r && r <= 0x9f:
		return true
	case 0x2028 <= r && r <= 0x202e, 0x2066 <= r && r <= 0x2069:
		return true
	case r == 0xfeff, 0xfff9 <= r && r <= 0xfffc, r&0xfffe == 0xfffe, 0xe0000 <= r && r <= 0xe0fff:
		return true
	}
	return false
}

// Separators returns an upper bound of the number of values in data, found before anything is
// built from it.
func Separators(data []byte) int {
	n := 0
	for _, c := range data {
		switch c {
		case ',', ':', '-', '[', '{', '?', '\n', '&', '!':
			n++
		}
	}
	return n
}
