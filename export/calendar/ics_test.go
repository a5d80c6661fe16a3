package calendar_test

import (
	"bytes"
	"errors"
	"fmt"
	"math/rand/v2"
	"regexp"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/export/calendar"
)

// A content line of RFC 5545, 3.1.
type line struct{ name, parameters, value string }

// unfold reads the content lines of a file by the rules of RFC 5545: lines end in CRLF, none is longer
// than 75 octets, and a line that begins with a space carries on the one before it.
func unfold(t testing.TB, file string) []line {
	t.Helper()
	require.True(t, strings.HasSuffix(file, "\r\n"))
	require.True(t, utf8.ValidString(file))
	raw := strings.Split(strings.TrimSuffix(file, "\r\n"), "\r\n")
	for _, l := range raw {
		assert.LessOrEqual(t, len(l), 75, "%q", l)
		assert.NotContains(t, l, "\n")
		assert.NotContains(t, l, "\r")
		assert.True(t, utf8.ValidString(l), "a fold within a character: %q", l)
	}
	return contentLines(t, strings.Join(raw, "\r\n"))
}

// contentLine is the grammar of RFC 5545, 3.1, for what we write: no parameter is quoted.
var contentLine = regexp.MustCompile(`^([A-Z-]+)((?:;[A-Z-]+=[A-Z-]+)*):(.*)$`)

func contentLines(t testing.TB, file string) []line {
	t.Helper()
	var out []line
	for _, l := range strings.Split(strings.NewReplacer("\r\n ", "", "\r\n\t", "").Replace(file), "\r\n") {
		m := contentLine.FindStringSubmatch(l)
		require.NotNil(t, m, "%q", l)
		out = append(out, line{m[1], m[2], m[3]})
	}
	return out
}

// text reads a value of the type TEXT by RFC 5545, 3.3.11: no bare comma, semicolon or backslash.
func text(t testing.TB, value string) string {
	t.Helper()
	var b strings.Builder
	for i := 0; i < len(value); i++ {
		switch c := value[i]; c {
		case ',', ';':
			t.Errorf("a bare %c in %q", c, value)
		case '\\':
			i++
			require.Less(t, i, len(value), "%q", value)
			switch value[i] {
			case 'n', 'N':
				b.WriteByte('\n')
			case '\\', ',', ';':
				b.WriteByte(value[i])
			default:
				t.Errorf("\\%c in %q", value[i], value)
			}
		default:
			require.True(t, c >= ' ' || c == '\t', "%q", value)
			b.WriteByte(c)
		}
	}
	return b.String()
}

// An event is what a reader finds in a file.
type event map[string]string

// parsed returns the events of a file, each property once.
func parsed(t testing.TB, file string) []event {
	t.Helper()
	lines := unfold(t, file)
	require.Equal(t, line{"BEGIN", "", "VCALENDAR"}, lines[0])
	require.Equal(t, line{"END", "", "VCALENDAR"}, lines[len(lines)-1])
	assert.Contains(t, lines, line{"VERSION", "", "2.0"})
	assert.Contains(t, lines, line{"PRODID", "", "-//wallshoal//calendar//EN"})
	var out []event
	var open event
	for _, l := range lines[1 : len(lines)-1] {
		switch {
		case l == line{"BEGIN", "", "VEVENT"}:
			require.Nil(t, open)
			open = event{}
		case l == line{"END", "", "VEVENT"}:
			out = append(out, open)
			open = nil
		case open != nil:
			require.NotContains(t, open, l.name)
			open[l.name] = l.value
			if l.name == "SUMMARY" || l.name == "DESCRIPTION" || l.name == "UID" {
				open[l.name] = text(t, l.value)
			}
			if l.name == "DTSTART" || l.name == "DTEND" {
				assert.Equal(t, ";VALUE=DATE", l.parameters)
			}
		}
	}
	require.Nil(t, open)
	return out
}

var stamp = time.Date(2026, time.November, 25, 23, 30, 0, 0, time.FixedZone("", -5*3600))

func written(t testing.TB, title string, a calendar.Answer) string {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, calendar.WriteICS(&b, title, a, stamp))
	return b.String()
}

func TestEvents(t *testing.T) {
	friday := calendar.On(2026, time.December, 4)
	a, err := weekdays().Plan(gluing, calendar.On(2026, time.November, 25), &friday)
	require.NoError(t, err)
	file := written(t, "Herring, folded; at the terminal", a)
	events := parsed(t, file)
	require.Len(t, events, 7)
	var got [][4]string
	for _, e := range events {
		got = append(got, [4]string{e["SUMMARY"], e["DTSTART"], e["DTEND"], e["TRANSP"]})
		assert.Equal(t, "20261126T043000Z", e["DTSTAMP"], "half past eleven in a zone five hours behind is the next day in UTC")
	}
	const at = " · Herring, folded; at the terminal"
	assert.Equal(t, [][4]string{
		{"fold" + at, "20261125", "20261128", "OPAQUE"},
		{"Wait after fold" + at, "20261127", "20261130", "TRANSPARENT"},
		{"paint" + at, "20261130", "20261201", "OPAQUE"},
		{"Wait after paint" + at, "20261130", "20261201", "TRANSPARENT"},
		{"hang" + at, "20261201", "20261202", "OPAQUE"},
		{"Last day to agree" + at, "20261126", "20261127", "TRANSPARENT"},
		{"Hangs by the end of this day" + at, "20261204", "20261205", "TRANSPARENT"},
	}, got)
	assert.Equal(t, "20 h of work, one person\nWed 25 Nov 2026: 09:00-17:00, 8 h of work\nThu 26 Nov 2026: 09:00-17:00, 8 h of work\nFri 27 Nov 2026: 09:00-13:00, 4 h of work", events[0]["DESCRIPTION"])
	assert.Equal(t, file, written(t, "Herring, folded; at the terminal", a))
}

// A changed plan keeps the UIDs of its operations, and another title has others.
func TestUIDsStay(t *testing.T) {
	day := calendar.On(2026, time.November, 25)
	uids := func(title string, ops []calendar.Operation) map[string]string {
		a, err := weekdays().Plan(ops, day, nil)
		require.NoError(t, err)
		out := map[string]string{}
		for _, e := range parsed(t, written(t, title, a)) {
			assert.Regexp(t, `^[0-9a-f]{8}-[0-9a-f]{4}-8[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$`, e["UID"])
			for _, other := range out {
				assert.NotEqual(t, other, e["UID"])
			}
			out[fmt.Sprintf("%s %d", e["SUMMARY"], len(out))] = e["UID"]
		}
		return out
	}
	first := uids("Herring", gluing)
	changed := []calendar.Operation{{Name: "cut", Minutes: 5}, {Name: "fold", Minutes: 6}, {Name: "fold", Minutes: 1}}
	second := uids("Herring", changed)
	assert.Len(t, second, 3, "operations of one name have UIDs of their own")
	assert.Equal(t, first["fold · Herring 0"], second["fold · Herring 1"])
	assert.NotEqual(t, first["fold · Herring 0"], uids("Sprat", gluing)["fold · Sprat 0"])
}

// Whatever names hold comes back as it was, less what cannot be seen.
func TestNamesComeBack(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 5))
	letters := []rune(`ab ,;:\"'=<>éß鰊🐟n\N^%·`)
	for range 100 {
		name, title := "x", "y"
		for range r.IntN(120) {
			name += string(letters[r.IntN(len(letters))])
			title += string(letters[r.IntN(len(letters))])
		}
		name, title = strings.Join(strings.Fields(name), " "), strings.Join(strings.Fields(title), " ")
		a, err := weekdays().Plan([]calendar.Operation{{Name: name, Minutes: 60}}, calendar.On(2027, 12, 31), nil)
		require.NoError(t, err)
		events := parsed(t, written(t, title, a))
		require.Len(t, events, 1)
		assert.Equal(t, name+" · "+title, events[0]["SUMMARY"])
	}
	a, err := weekdays().Plan([]calendar.Operation{{Name: "a\r\nBEGIN:VEVENT\x00\tb\xff", Minutes: 60}}, calendar.On(2027, 12, 31), nil)
	require.NoError(t, err)
	assert.Equal(t, "a BEGIN:VEVENT b\ufffd", parsed(t, written(t, "", a))[0]["SUMMARY"])
}

// The examples of RFC 5545: a description folded in two places (3.1), and a text with escapes
// (3.3.11).
func TestExamplesOfTheStandard(t *testing.T) {
	lines := contentLines(t, "DESCRIPTION:This is a lo\r\n ng description\r\n  that exists on a long line.")
	assert.Equal(t, []line{{"DESCRIPTION", "", "This is a long description that exists on a long line."}}, lines)
	assert.Equal(t, "Project XYZ Final Review\nConference Room - 3B\nCome Prepared.",
		text(t, `Project XYZ Final Review\nConference Room - 3B\nCome Prepared.`))
}

type broken struct{}

func (broken) Write([]byte) (int, error) { return 0, errors.New("disk full") }

func TestWhatCannotBeWritten(t *testing.T) {
	a, err := weekdays().Plan(gluing, calendar.On(2026, 11, 25), nil)
	require.NoError(t, err)
	assert.ErrorContains(t, calendar.WriteICS(broken{}, "x", a, stamp), "disk full")
	assert.ErrorContains(t, calendar.WriteICS(&bytes.Buffer{}, "x", a, time.Time{}), "no time was given")
	a, err = weekdays().Plan(gluing, calendar.On(9999, 12, 30), nil)
	require.NoError(t, err)
	assert.ErrorContains(t, calendar.WriteICS(&bytes.Buffer{}, "x", a, stamp), "four figures")
}
