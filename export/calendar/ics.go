package calendar

import (
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"strings"
	"time"
	"unicode"

	ics "github.com/arran4/golang-ical"
	"golang.org/x/text/unicode/norm"
)

// product says in the file what wrote it.
const product = "-//wallshoal//calendar//EN"

// WriteICS writes the answer as an iCalendar file (RFC 5545) for the calendar programs of those who do
// the work: an all-day event for each operation and each wait, and one each for the last day to agree
// and the day to hang. Their UIDs follow from the title and the names of the operations, so that the file
// of a changed plan moves the events of the one before. The stamp is when that was said. The error is
// that of w, or of dates and stamps that the format cannot hold.
func WriteICS(w io.Writer, title string, a Answer, stamp time.Time) error {
	if stamp.Year() < 1 || stamp.Year() > 9999 || stamp.IsZero() {
		return errors.New("writing iCalendar: no time was given at which it is written")
	}
	e := events{title: visible(title), stamp: stamp, calendar: ics.NewCalendarFor(product), seen: map[string]int{}}
	e.calendar.SetProductId(product)
	e.calendar.SetMethod(ics.MethodPublish)
	e.calendar.SetXWRCalName(e.title)
	for i := range a.Schedule.Operations {
		e.operation(a.Schedule, i)
	}
	if a.Install != nil {
		e.add("agree", "Last day to agree", a.String(), a.LastYes, a.LastYes, ics.TransparencyTransparent)
		e.add("install", "Hangs by the end of this day", a.String(), *a.Install, *a.Install, ics.TransparencyTransparent)
	}
	if e.fault != nil {
		return fmt.Errorf("writing iCalendar: %w", e.fault)
	}
	// The library ends lines as the system does, and drops some errors of the writer.
	var file strings.Builder
	if err := e.calendar.SerializeTo(&file, ics.WithNewLineWindows); err != nil {
		return fmt.Errorf("writing iCalendar: %w", err)
	}
	if _, err := io.WriteString(w, file.String()); err != nil {
		return fmt.Errorf("writing iCalendar: %w", err)
	}
	return nil
}

// events gathers the events of one file.
type events struct {
	title    string
	stamp    time.Time
	calendar *ics.Calendar
	seen     map[string]int // how many events have the same name
	fault    error
}

// operation adds the events of the operation with index i: its work, and what is waited for after it.
func (e *events) operation(s Schedule, i int) {
	name := visible(s.Operations[i].Name)
	var days []string
	var first, last Day
	all, crew := 0, 0
	for _, h := range s.Shifts {
		if h.Operation != i {
			continue
		}
		if len(days) == 0 {
			first = h.Day
		}
		last, crew = h.Day, h.Crew
		all += h.Minutes()
		days = append(days, fmt.Sprintf("%s: %s-%s, %s", h.Day.Words(), clock(h.From), clock(h.To), workOf(h)))
	}
	if len(days) > 0 {
		text := fmt.Sprintf("%s h of work, %s\n%s", hoursOf(all), people(crew), strings.Join(days, "\n"))
		e.add("work\x00"+name, name, text, first, last, ics.TransparencyOpaque)
	}
	for _, wait := range s.Waits {
		if wait.Operation == i {
			text := fmt.Sprintf("%s, from %s to %s, by day and night", spanOf(int(wait.To-wait.From)), wait.From, wait.To)
			e.add("wait\x00"+name, "Wait after "+name, text, wait.From.Day(), (wait.To - 1).Day(), ics.TransparencyTransparent)
		}
	}
}

// add adds an all-day event from the first day to the last. DTEND is the day after, as RFC 5545, 3.6.1,
// has it.
func (e *events) add(key, summary, text string, first, last Day, busy ics.TimeTransparency) {
	for _, d := range []Day{first, last + 1} {
		if year := d.Time().Year(); year < 1 || year > 9999 {
			e.fault = fmt.Errorf("the year %d has not four figures", year)
			return
		}
	}
	e.seen[key]++
	v := e.calendar.AddEvent(uid(e.title, key, e.seen[key]))
	v.SetDtStampTime(e.stamp)
	v.SetAllDayStartAt(first.Time())
	v.SetAllDayEndAt((last + 1).Time())
	v.SetSummary(joined(summary, e.title))
	v.SetDescription(text)
	v.SetTimeTransparency(busy)
}

// uid makes an identifier from names: the form of a UUID of version 8 (RFC 9562, 5.8), from their
// SHA-256. RFC 7986, 5.3, recommends UUIDs, and nothing of who made the file is in it.
func uid(title, key string, nth int) string {
	sum := sha256.Sum256(fmt.Appendf(nil, "wallshoal\x00%s\x00%s\x00%d", title, key, nth))
	sum[6] = sum[6]&0x0f | 0x80
	sum[8] = sum[8]&0x3f | 0x80
	return fmt.Sprintf("%x-%x-%x-%x-%x", sum[0:4], sum[4:6], sum[6:8], sum[8:10], sum[10:16])
}

// visible returns text on one line, composed, without what cannot be seen: the library passes controls
// and broken bytes on, which have no place in a text of RFC 5545.
func visible(text string) string {
	text = norm.NFC.String(strings.ToValidUTF8(text, "\ufffd"))
	return strings.Join(strings.FieldsFunc(text, func(r rune) bool { return unicode.IsSpace(r) || unicode.IsControl(r) }), " ")
}

func joined(parts ...string) string {
	var out []string
	for _, p := range parts {
		if p != "" {
			out = append(out, p)
		}
	}
	return strings.Join(out, " · ")
}

// workOf says how much work a shift holds.
func workOf(s Shift) string { return hoursOf(s.Minutes()) + " h of work" }

func people(n int) string {
	if n == 1 {
		return "one person"
	}
	return fmt.Sprintf("%d people", n)
}
