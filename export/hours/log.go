package hours

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"

	"wallshoal/export/quote"
	"wallshoal/export/table"
)

// Limits of a log. A log past one gets a message.
const (
	MaxBytes   = 1 << 20 // of the file
	MaxRecords = 10_000
	MaxText    = 120 // characters of a name
	MaxUnits   = 1e6
	MaxMinutes = 1e6 // of one job, nearly two years without a break
	MaxFaults  = 200 // faults listed
)

// A Record is what one operation took on one job.
type Record struct {
	Job       string
	Operation string
	Units     float64 // of what the operation counts: pieces, holes, square metres; above 0
	Minutes   float64 // of work, of all hands together; above 0
	Line      int     // where it stands in the log, from 1
}

// header is the columns of a log.
func header() []string { return []string{"job", "operation", "units", "minutes"} }

// Read returns the records of a log, which is the contents of the file called name: a CSV table as
// RFC 4180 describes it, with lines that end in CRLF or LF, in UTF-8 with or without a byte order
// mark. The first line names the columns job, operation, units and minutes, in any order. Rows of
// empty cells are passed over. The error is nil or Faults: everything that is wrong with the log.
func Read(name string, data []byte) ([]Record, error) {
	l := &log{name: name}
	if text, ok := l.text(data); ok {
		l.lines = strings.Split(text, "\n")
		l.read(text)
	}
	if len(l.faults) > 0 {
		return nil, l.faults.listed()
	}
	return l.records, nil
}

// A log is a file being read. Faults gather in it; nothing stops at the first.
type log struct {
	name    string
	lines   []string
	columns []string // by place, once the header is read
	records []Record
	faults  Faults
}

func (l *log) fault(line, column int, field, wrong, fix string) {
	l.faults = append(l.faults, Fault{File: l.name, Line: line, Column: column, Field: field, Wrong: wrong, Fix: fix})
}

// text returns data as text without a byte order mark, and reports whether it can be read at all.
func (l *log) text(data []byte) (string, bool) {
	if len(data) > MaxBytes {
		l.fault(1, 1, "", fmt.Sprintf("the file has %d bytes", len(data)), fmt.Sprintf("keep it within %d", MaxBytes))
		return "", false
	}
	text := strings.TrimPrefix(string(data), "\ufeff")
	line, column := 1, 0
	for i, r := range text {
		column++
		wrong, fix := "", "remove it"
		switch {
		case r == '\n':
			line, column = line+1, 0
		case r == '\r' && !strings.HasPrefix(text[i+1:], "\n"):
			wrong, fix = "a line ends in a lone carriage return", "save the table as CSV in UTF-8"
		case r == utf8.RuneError && !strings.HasPrefix(text[i:], "\ufffd"):
			wrong, fix = "a byte here is no UTF-8 text", "save the table as CSV in UTF-8"
		case r != '\t' && r != '\r' && (unicode.In(r, unicode.Cc, unicode.Cf, unicode.Zl, unicode.Zp) || r == utf8.RuneError):
			wrong = fmt.Sprintf("a hidden character (U+%04X) stands here", r)
		}
		if wrong != "" {
			l.fault(line, column, "", wrong, fix)
			return "", false
		}
	}
	return text, true
}

func (l *log) read(text string) {
	r := csv.NewReader(strings.NewReader(text))
	r.FieldsPerRecord = -1
	r.ReuseRecord = true
	seen := map[[2]string]int{}
	for {
		cells, err := r.Read()
		var parse *csv.ParseError
		switch {
		case errors.Is(err, io.EOF):
			if l.columns == nil && len(l.faults) == 0 {
				l.fault(1, 1, "", "the file is empty", "begin it with the line "+strings.Join(header(), ","))
			}
			return
		case errors.As(err, &parse):
			l.unquoted(parse)
			if l.columns == nil {
				return // nobody can tell which column is which
			}
			continue
		case err != nil:
			l.fault(1, 1, "", err.Error(), "save the table as CSV in UTF-8")
			return
		}
		at := func(i int) (line, column int) {
			if i >= len(cells) {
				i = len(cells) - 1
			}
			line, column = r.FieldPos(i)
			return line, l.character(line, column)
		}
		switch {
		case strings.TrimSpace(strings.Join(cells, "")) == "":
		case l.columns == nil:
			if !l.header(cells, at) {
				return
			}
		case len(l.records) == MaxRecords:
			line, _ := at(0)
			l.fault(line, 1, "", fmt.Sprintf("more than %d rows stand in the log", MaxRecords), "leave out the oldest jobs")
			return
		default:
			l.row(cells, at, seen)
		}
	}
}

// unquoted complains of quotation marks that do not pair.
func (l *log) unquoted(e *csv.ParseError) {
	const fix = `put the whole cell in quotation marks, and write "" for one inside it`
	if errors.Is(e.Err, csv.ErrBareQuote) {
		l.fault(e.Line, l.character(e.Line, e.Column), "", "a quotation mark stands inside a cell that does not begin with one", fix)
		return
	}
	if e.Line > e.StartLine {
		l.fault(e.StartLine, 1, "", "a quotation mark opens in this row and does not close in it", fix)
		return
	}
	l.fault(e.Line, l.character(e.Line, e.Column), "", "the quotation marks of a cell close before its end, or never", fix)
}

// character returns which character of a line its byte number column is, both from 1.
func (l *log) character(line, column int) int {
	if line < 1 || line > len(l.lines) {
		return 1
	}
	text := l.lines[line-1]
	return 1 + utf8.RuneCountInString(text[:min(max(column-1, 0), len(text))])
}

// header reads the names of the columns and reports whether rows can be read by them.
func (l *log) header(cells []string, at func(int) (int, int)) bool {
	line, _ := at(0)
	cells = trimmed(cells)
	if len(cells) == 1 {
		for _, mark := range []struct{ sign, name string }{{";", "semicolons"}, {"\t", "tabs"}} {
			if strings.Contains(cells[0], mark.sign) {
				l.fault(line, 1, "", mark.name+" stand between the columns", "save the table with commas between columns and points before decimals")
				return false
			}
		}
	}
	for i, c := range cells {
		name := strings.ToLower(c)
		row, column := at(i)
		switch {
		case !slices.Contains(header(), name):
			l.fault(row, column, "", quote.Text(c)+" is not a column of a log", "keep the columns "+strings.Join(header(), ", "))
		case slices.Contains(l.columns, name):
			l.fault(row, column, name, "stands over two columns", "keep one of them")
		}
		l.columns = append(l.columns, name)
	}
	for _, name := range header() {
		if !slices.Contains(l.columns, name) {
			l.fault(line, 1, name, "is missing", "begin the log with the line "+strings.Join(header(), ","))
		}
	}
	return len(l.faults) == 0
}

// trimmed returns the cells without spaces round them, and without empty ones at the end.
func trimmed(cells []string) []string {
	out := make([]string, len(cells))
	for i, c := range cells {
		out[i] = strings.TrimSpace(c)
	}
	for len(out) > 0 && out[len(out)-1] == "" {
		out = out[:len(out)-1]
	}
	return out
}

func (l *log) row(cells []string, at func(int) (int, int), seen map[[2]string]int) {
	line, _ := at(0)
	before := len(l.faults)
	values := trimmed(cells)
	if n := len(l.columns); len(values) > n {
		row, column := at(n)
		l.fault(row, column, "", fmt.Sprintf("the row has %d cells under %d columns", len(values), n),
			"put a cell that holds a comma in quotation marks, and write a point before decimals")
		return
	}
	record := Record{Line: line}
	for i, field := range l.columns {
		value := ""
		if i < len(values) {
			value = values[i]
		}
		row, column := at(i)
		c := cell{l, row, column, field, value}
		switch field {
		case "job":
			record.Job = c.name()
		case "operation":
			record.Operation = c.name()
		case "units":
			record.Units = c.number(MaxUnits)
		case "minutes":
			record.Minutes = c.number(MaxMinutes)
		}
	}
	if len(l.faults) > before {
		return
	}
	key := [2]string{Same(record.Job), Same(record.Operation)}
	if first, twice := seen[key]; twice {
		l.fault(line, 1, "", fmt.Sprintf("%s of %s stands in line %d already", quote.Text(record.Operation), quote.Text(record.Job), first),
			"add the two up, or give the jobs names of their own")
		return
	}
	seen[key] = line
	l.records = append(l.records, record)
}

// A cell is one cell of a row.
type cell struct {
	log          *log
	line, column int
	field, value string
}

func (c cell) fault(wrong, fix string) { c.log.fault(c.line, c.column, c.field, wrong, fix) }

// name returns the cell as a name on one line, composed (Unicode NFC).
func (c cell) name() string {
	text := table.Restore(c.value)
	switch n := utf8.RuneCountInString(text); {
	case text == "":
		c.fault("is empty", "write a name")
	case strings.ContainsAny(text, "\n\r\t"):
		c.fault(quote.Text(text)+" holds a line break or a tab", "write it on one line")
	case n > MaxText:
		c.fault(fmt.Sprintf("has %d characters", n), fmt.Sprintf("keep it within %d", MaxText))
	case text == c.value && table.Safe(text) != text:
		c.fault(quote.Text(text)+" begins like a formula", "begin it with a letter or a figure")
	}
	return norm.NFC.String(text)
}

// decimal is a number written in full; only such are read.
var decimal = regexp.MustCompile(`^(\d{1,20}\.?\d{0,20}|\.\d{1,20})$`)

// number returns the cell as a number above 0, at most max.
func (c cell) number(max float64) float64 {
	fix := "write a number above 0 and up to " + strconv.FormatFloat(max, 'f', -1, 64)
	n, err := strconv.ParseFloat(c.value, 64)
	switch {
	case c.value == "":
		c.fault("is empty", fix)
	case strings.HasPrefix(c.value, "="):
		c.fault(quote.Text(c.value)+" is a formula", "save the table with values in place of formulas")
	case !decimal.MatchString(c.value) || err != nil:
		if strings.ContainsAny(c.value, ",") {
			fix += ", with a point before decimals and nothing between thousands"
		}
		if strings.Contains(c.value, ":") {
			fix += ": 1:30 is 90 minutes"
		}
		c.fault(quote.Text(c.value)+" is not a plain number", fix)
	case !(n > 0 && n <= max):
		c.fault(quote.Text(c.value)+" is out of range", fix)
	}
	return n
}

// Same returns the form of a name by which two names are told to be one: composed, in small
// letters, with single spaces.
func Same(name string) string {
	return strings.ToLower(norm.NFC.String(strings.Join(strings.Fields(name), " ")))
}
