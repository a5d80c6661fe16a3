package yamlfile_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/cmd/wallshoal/yamlfile"
	"wallshoal/wall/measure"
)

// readAll reads a file that may hold one of every kind of value.
func readAll(_ *yamlfile.File, top yamlfile.Map) {
	top.Known("name", "colour", "wide", "part", "many", "seed", "yes", "surface", "list", "map")
	top.Get("name").Need("give it a name").Text(20)
	top.Get("colour").Text(20)
	top.Get("wide").Length("a width", measure.Millimetre, 1, 1e6)
	top.Get("part").Number("a share", 0, 10)
	top.Get("many").Whole("a number of pieces", 1, 100)
	top.Get("seed").Seed()
	top.Get("yes").Bool()
	top.Get("surface").Choice("a surface", "brick", "plaster", "plasterboard")
	items, _ := top.Get("list").List(3, "a list of words")
	for _, item := range items {
		item.Text(20)
	}
	if m, ok := top.Get("map").Map("inner"); ok {
		m.Get("inner").Need("give it").Text(20)
	}
}

// marked returns text without its marks, and the lines, from 1, that began with one.
func marked(text string) (clean string, lines []int) {
	for i, line := range strings.Split(text, "\n") {
		if strings.HasPrefix(line, "▶") {
			lines = append(lines, i+1)
		}
	}
	return strings.ReplaceAll(text, "▶", ""), lines
}

// In each file a ▶ begins the line that the message names.
func TestFaults(t *testing.T) {
	const empty = "give it a value or remove the line; what follows a space and a # is not read"
	tests := []struct{ file, want string }{
		{"▶", "the file is empty; start from one that `wallshoal new` writes"},
		{"▶# nothing\n", "the file is empty; start from one that `wallshoal new` writes"},
		{"▶just words", "the file is no list of keys and values; write lines like title: My wall"},
		{"name: a\n▶nmae: b", "nmae: is not a known key; did you mean name?"},
		{"name: a\n▶color: b", "color: is not a known key; did you mean colour?"},
		{"name: a\n▶thickness: 2", "thickness: is not a known key; known here: name, colour, wide, part, many, seed, yes, surface, list, map"},
		{"▶nmae: a", "nmae: is not a known key; did you mean name?"}, // and not that name is missing too
		{"▶wide: 2", "name: is missing; give it a name"},
		{"name: a\nmap:\n  inner: a\n▶  innner: b", "map.innner: is not a known key; did you mean inner?"},
		{"name: a\n▶map: {}", "map.inner: is missing; give it"},
		{"▶name:", "name: is empty; " + empty},
		{"▶name: ~", "name: is empty; " + empty},
		{"▶name: # Wall", "name: is empty; " + empty},
		{"name: a\n▶colour: #123456", "colour: is empty; " + empty},
		{"▶name: '  '", "name: is empty; give it a value or remove the line"},
		{"▶name: [a]", "name: is a list; write a single line of text"},
		{"▶name: {a: b}", "name: is a map of keys; write a single line of text"},
		{"▶name: " + strings.Repeat("x", 21), "name: has 21 characters; keep it within 20"},
		{`▶name: "a\x07b"`, `name: "a\u0007b" holds a hidden character (U+0007); write one line of plain text`},
		{`▶name: "a\nb"`, `name: "a\u000ab" holds a hidden character (U+000A); write one line of plain text`},
		{`▶name: "a\u202eb"`, `name: "a\u202eb" holds a hidden character (U+202E); write one line of plain text`},
		{"title: x\n▶name: a\x07", "a hidden character (U+0007) stands here; remove it"},
		{"name: a\n▶colour: \u202e", "a hidden character (U+202E) stands here; remove it"},
		{"name: a\n▶colour: \xff", "a byte here is no UTF-8 text; save the file as UTF-8"},
		{"name: a\n▶wide: -40", "wide: -40 mm is not a width; give a number above 0"},
		{"name: a\n▶wide: 0 ft", "wide: 0 mm is not a width; give a number above 0"},
		{"name: a\n▶wide: 0.5", "wide: 0.5 mm is too little for a width; give at least 1 mm"},
		{"name: a\n▶wide: 2000 m", "wide: 2000000 mm is too much for a width; give at most 1000000 mm"},
		{"name: a\n▶wide: .inf", `wide: ".inf" is not a length that can be measured; write a number with or without a unit, like 2.4 m, 180 mm or 7'-6 1/2"`},
		{"name: a\n▶wide: [1, 2]", "wide: is a list; write a length"},
		{"name: a\n▶part: .nan", `part: ".nan" is not a share; give a number from 0 to 10`},
		{"name: a\n▶part: 1e1", `part: "1e1" is not a share; give a number from 0 to 10`},
		{"name: a\n▶part: 1,5", `part: "1,5" is not a share; give a number from 0 to 10, with a point before decimals`},
		{"name: a\n▶part: 11", "part: 11 is not a share; give a number from 0 to 10"},
		{"name: a\n▶many: 1.5", `many: "1.5" is not a number of pieces; give a whole number from 1 to 100`},
		{"name: a\n▶many: 101", `many: "101" is not a number of pieces; give a whole number from 1 to 100`},
		{"name: a\n▶many: 0x10", `many: "0x10" is not a number of pieces; give a whole number from 1 to 100`},
		{"name: a\n▶seed: -1", `seed: "-1" is not a seed; give a whole number from 0 to 18446744073709551615`},
		{"name: a\n▶seed: 18446744073709551616", `seed: "18446744073709551616" is not a seed; give a whole number from 0 to 18446744073709551615`},
		{"name: a\n▶yes: perhaps", `yes: "perhaps" is neither true nor false; write true or false`},
		{"name: a\n▶surface: plster", `surface: "plster" is not a surface; did you mean plaster?`},
		{"name: a\n▶surface: gold", `surface: "gold" is not a surface; write one of brick, plaster, plasterboard`},
		{"name: a\n▶list: b", "list: is a single value; write a list of words"},
		{"name: a\n▶list: [a, b, c, d]", "list: has 4 items; give at most 3"},
		{"name: a\nlist:\n- b\n▶-\n- c", "list[1]: is empty; " + empty},
		{"name: a\n▶name: b", "name: is given twice, first in line 1; keep one of them"},
		{"▶name: &x a", "name: &x names a part of the file to repeat it; remove it, and put text that starts with & in quotation marks"},
		{"▶name: !!str a", "name: !!str is a type tag; remove it, and put text that starts with ! in quotation marks"},
		{"▶name: !secret a", "name: !secret is a type tag; remove it, and put text that starts with ! in quotation marks"},
		{"▶name: *x", "* repeats a part of the file that has no such name; write it out, and put text that starts with * in quotation marks"},
		{"name: a\n▶<<: {wide: 2}", "<< takes in another part of the file; write its lines out here"},
		{"name: a\n▶? [b, c]\n: d", "a key is no plain word; write lines like title: My wall"},
		{"name: a\n▶---\nname: b", "a second document starts; keep one document to a file and remove the line of three dashes or dots"},
		{"name: a\n▶...\nname: b", "a second document starts; keep one document to a file and remove the line of three dashes or dots"},
		// Files that are no YAML.
		{"name: a\n▶wide: 2: 3\nmany: 2", "a colon stands where no value can begin; line the keys up with those above, and put text that holds a colon and a space in quotation marks"},
		{"name: a\n▶\twide: 2", "the line is indented with a tab; indent with spaces"},
		{"name: a\nmap:\n  inner: b\n▶ wide: 3\nmany: 2", "the line is not lined up with the lines above it; give the keys of one map the same number of spaces before them"},
		{"name: a\n▶colour: \"b\nwide: 3", "quotation marks that open here are never closed; close them on the same line"},
		{"name: a\n▶colour: \"\\q\"", "a backslash in quotation marks starts nothing known; write it twice, or use single quotation marks"},
		{"name: a\n▶list: [a, b\nwide: 3", "a list in brackets is not closed, or lacks a comma; write it like [400, 300]"},
		{"name: a\n▶map: {inner: a\nwide: 3", "a map in braces is not closed, or lacks a comma; write it like {wall: Long wall, at: [400, 300]}"},
		{"name: a\n▶colour: @b", "the value starts with a character that has a meaning of its own, or with a tab; put the value in quotation marks, and indent with spaces"},
		{"name: a\n▶wide\nmany: 3", "the line has no colon after its key; write it like title: My wall"},
		{"name: a\n▶colour:red\nmany: 3", "there is no space after the colon; write colour: red"},
		{"name: a\nmap:\n  inner: 2\n▶  outer:3\nmany: 3", "there is no space after the colon; write outer: 3"},
		{"list:\n▶  - kind shelf\n    wide: 3\nname: a", "there is no colon after kind; write kind: shelf"},
		{"list:\n  - kind: shelf\n▶    deep 3    # out\n    # more\n    wide: 3\nname: a", "there is no colon after deep; write deep: 3"},
		{"name: a\n▶wide: \"3/4\"\"   # out\nmany: 2", `the quotation marks close before the end of the value; write wide: '3/4"', or leave out the quotation marks round it`},
		{"name: a\n▶wide: \"7'-6\"\"\nmany: 2", `the quotation marks close before the end of the value; leave out the quotation marks round it, or write those inside it as \"`},
		{"▶%PDF-1.7\n\x00\x01", "the file is a PDF, and neither a plan nor a layout; name a text file, like the one that `wallshoal new` writes"},
		{"▶PK\x03\x04", "the file is a packed folder or an office document, and neither a plan nor a layout; name a text file, like the one that `wallshoal new` writes"},
		{"▶name: a\n\x00", "the file is no text, and neither a plan nor a layout; name a text file, like the one that `wallshoal new` writes"},
		{"list:\n- a\n▶  b: c\nname: a", "a colon stands where no value can begin; line the keys up with those above, and put text that holds a colon and a space in quotation marks"},
		{"list:\n  - a\n▶ - b\nname: a", "the line is not lined up with the lines above it; give the keys of one map the same number of spaces before them"},
	}
	for _, tt := range tests {
		t.Run(tt.file, func(t *testing.T) {
			file, lines := marked(tt.file)
			require.Len(t, lines, 1)
			err := yamlfile.Read("f.yaml", []byte(file), yamlfile.MaxBytes, readAll)
			require.Error(t, err)
			assert.Equal(t, fmt.Sprintf("f.yaml:%d: %s", lines[0], tt.want), err.Error())
		})
	}
}

func TestAllFaultsAtOnce(t *testing.T) {
	file, lines := marked("▶nmae: a\n▶wide: -2\n▶yes: 3\nlist:\n- a\n▶- [b]\n▶map: {inner: }\n▶surface: tiles\n▶seed: x\n▶many: 0")
	err := yamlfile.Read("f.yaml", []byte(file), yamlfile.MaxBytes, readAll)
	var faults yamlfile.Faults
	require.True(t, errors.As(err, &faults))
	var got []int
	for _, f := range faults {
		got = append(got, f.Line)
	}
	assert.Equal(t, lines, got)
	assert.Equal(t, len(lines), strings.Count(err.Error(), "\n")+1)
}

// More faults than anybody reads end in their number.
func TestManyFaults(t *testing.T) {
	var b strings.Builder
	for i := range 10_000 {
		fmt.Fprintf(&b, "k%d: 1\n", i)
	}
	err := yamlfile.Read("f.yaml", []byte(b.String()), yamlfile.MaxBytes, func(_ *yamlfile.File, top yamlfile.Map) { top.Known("name") })
	var faults yamlfile.Faults
	require.True(t, errors.As(err, &faults))
	require.Len(t, faults, yamlfile.MaxFaults+1)
	assert.Equal(t, "f.yaml:201: 9800 more faults follow; correct the ones above first", faults[yamlfile.MaxFaults].Error())
}

func TestSize(t *testing.T) {
	err := yamlfile.Read("f.yaml", []byte("name: a"), 6, readAll)
	assert.EqualError(t, err, "f.yaml:1: the file has 7 bytes; keep it within 6")
}

// What is written is what is read: no guessing of types.
func TestValues(t *testing.T) {
	file := "\ufeffname: No\r\ncolour: 017\r\nwide: 7'-6 1/2\"\r\npart: 017\r\nmany: 017\r\nseed: 18446744073709551615\r\nyes: No\r\nsurface: PlasterBoard\r\nlist: [\"null\", e\u0301, ' x ']\r\n"
	err := yamlfile.Read("f.yaml", []byte(file), yamlfile.MaxBytes, func(_ *yamlfile.File, top yamlfile.Map) {
		name, ok := top.Get("name").Text(20)
		assert.True(t, ok)
		assert.Equal(t, "No", name)
		colour, _ := top.Get("colour").Text(20)
		assert.Equal(t, "017", colour)
		wide, _ := top.Get("wide").Length("a width", measure.Metre, 1, 1e6)
		assert.Equal(t, 2298.7, wide)
		part, _ := top.Get("part").Number("a share", 0, 100)
		assert.Equal(t, 17.0, part)
		many, _ := top.Get("many").Whole("a number", 0, 100)
		assert.Equal(t, 17, many)
		seed, _ := top.Get("seed").Seed()
		assert.Equal(t, uint64(18446744073709551615), seed)
		yes, ok := top.Get("yes").Bool()
		assert.True(t, ok)
		assert.False(t, yes)
		surface, _ := top.Get("surface").Choice("a surface", "plasterboard")
		assert.Equal(t, "plasterboard", surface)
		items, _ := top.Get("list").List(3, "a list")
		var texts []string
		for _, item := range items {
			text, _ := item.Text(20)
			texts = append(texts, text)
		}
		assert.Equal(t, []string{"null", "\u00e9", "x"}, texts)
		_, ok = top.Get("map").Map()
		assert.False(t, ok)
	})
	require.NoError(t, err)
}

// A fault of a field stands at the deepest part of its path that the file has.
func TestPlaceOfFault(t *testing.T) {
	file := "name: a\nlist:\n- b\n- c\nmap:\n  inner: d\n"
	for field, line := range map[string]int{
		"list[1]": 4, "list[1].deep[2]": 4, "list[7]": 2, "map.inner": 6, "map.other.thing": 5, "none": 1, "list": 2, "": 1,
	} {
		err := yamlfile.Read("f.yaml", []byte(file), yamlfile.MaxBytes, func(f *yamlfile.File, _ yamlfile.Map) {
			f.Fault(field, "is wrong", "mend it")
		})
		assert.Contains(t, err.Error(), fmt.Sprintf("f.yaml:%d: ", line), field)
	}
}

func TestFaulty(t *testing.T) {
	_ = yamlfile.Read("f.yaml", []byte("a: 1"), yamlfile.MaxBytes, func(f *yamlfile.File, _ yamlfile.Map) {
		f.Fault("walls[1].name", "is wrong", "mend it")
		f.Spoil("walls[2]")
		for field, want := range map[string]bool{
			"walls[1].name": true, "walls[1]": true, "walls": true, "walls[1].name.part": true, "walls[10]": false,
			"walls[1].names": false, "walls[0]": false, "walls[2].name": true, "walls[22]": false,
		} {
			assert.Equal(t, want, f.Faulty(field), field)
		}
	})
}

func TestNearest(t *testing.T) {
	known := []string{"stand-off", "colour", "height", "left", "at", "units", "zones"}
	for word, want := range map[string]string{
		"stand_off": "stand-off", "standoff": "stand-off", "Stand Off": "stand-off", "color": "colour",
		"heigth": "height", "hight": "height", "lft": "left", "Left": "left", "unit": "units",
		"a": "", "AT": "at", "width": "", "xxxxx": "", "": "", "coloration": "",
	} {
		assert.Equal(t, want, yamlfile.Nearest(word, known), word)
	}
}

// Whatever a file holds, it is read or complained of, soon, in lines that name a line of it.
func FuzzRead(f *testing.F) {
	for _, text := range []string{
		"name: a", "name: &a [*a]", "{[-", "? \n: ", "a: |\n  b\n", "%YAML 1.1\n---\nname: a", "name: \"\\u0000\"", "- a\n- b", "a: !!binary x",
		"0:\t:", "name: a\nwide: 1\nlist: [~]\nmap: {inner: [}", "\ufeff", "a:\r\rb", "---\n...\n---", "<<: *a", "name: a # b\n\n\n#",
	} {
		f.Add([]byte(text))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		err := yamlfile.Read("f.yaml", data, 1<<14, readAll)
		var faults yamlfile.Faults
		if err == nil || !assert.True(t, errors.As(err, &faults)) {
			return
		}
		last := 0
		for _, f := range faults {
			assert.GreaterOrEqual(t, f.Line, max(last, 1))
			assert.LessOrEqual(t, f.Line, strings.Count(string(data), "\n")+strings.Count(string(data), "\r")+1)
			assert.NotContains(t, f.Error(), "\n")
			last = f.Line
		}
	})
}
