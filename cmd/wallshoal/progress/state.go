package progress

import (
	"bytes"
	"cmp"
	"fmt"
	"maps"
	"slices"
)

// A state is what the lines read so far come to.
type state struct {
	up     map[string]ticked // by the mark of the holes
	left   map[string]ticked // likewise
	count  int               // of lines about pieces
	stands map[standKey]int  // index into list
	list   []Stand
	found  Record // damage only
}

type ticked struct {
	Tick
	count int
}

type standKey struct {
	layout string
	number int
}

func newState() *state {
	return &state{up: map[string]ticked{}, left: map[string]ticked{}, stands: map[standKey]int{}}
}

// Read returns what a progress file says, which is called name and has the contents data. A line that was
// not written to its end and damaged lines are passed over and told of in the record. The error says that this
// is no progress file at all.
func Read(name string, data []byte) (Record, error) {
	s, _, err := read(name, data)
	if err != nil {
		return Record{}, err
	}
	return s.record(), nil
}

// read returns what the file says, and how many bytes its whole lines have; the last of them may lack
// its line end.
func read(name string, data []byte) (s *state, whole int, err error) {
	switch {
	case len(data) > MaxBytes:
		return nil, 0, fmt.Errorf("%q has more than %d bytes; keep it, and begin another", name, MaxBytes)
	case bytes.HasPrefix(data, []byte(header)):
	case bytes.HasPrefix(data, []byte(anyHeader)):
		return nil, 0, fmt.Errorf("%q was written by another version of this program; keep it, and name another", name)
	default:
		return nil, 0, fmt.Errorf("%q does not begin as a progress file does, and is left as it is; name another", name)
	}
	s, whole = newState(), len(header)
	number := 2
	for ; whole < len(data); number++ {
		n := bytes.IndexByte(data[whole:], '\n')
		if n < 0 {
			break
		}
		l, wrong := parse(data[whole : whole+n])
		if wrong == "" {
			wrong = s.take(l)
		}
		if wrong != "" {
			s.damaged(number, wrong)
		}
		whole += n + 1
	}
	rest := unfilled(data[whole:])
	l, wrong := parse(rest)
	if wrong != "" {
		s.found.Torn = len(data) - whole
		return s, whole, nil
	}
	s.found.Torn = len(data) - whole - len(rest) // only its line end is missing
	if wrong := s.take(l); wrong != "" {
		s.damaged(number, wrong)
	}
	return s, whole + len(rest), nil
}

// unfilled returns the end of a file without the zeros that some systems leave where they had no time to
// write.
func unfilled(rest []byte) []byte { return bytes.TrimRight(rest, "\x00") }

func (s *state) damaged(number int, wrong string) {
	s.found.Lost++
	if len(s.found.Damaged) < MaxDamage {
		s.found.Damaged = append(s.found.Damaged, Damage{number, wrong})
	}
}

// wrong says why a line cannot come next, or nothing.
func (s *state) wrong(l line) string {
	i, known := s.stands[standKey{l.Layout, l.Stand}]
	switch l.Do {
	case begin:
		if known && s.list[i].Hands > 0 {
			return fmt.Sprintf("begins stand %d, where work goes on already", l.Stand)
		}
	case pause, end:
		switch {
		case !known:
			return fmt.Sprintf("ends stand %d, which was never begun", l.Stand)
		case l.Do == pause && s.list[i].Hands == 0:
			return fmt.Sprintf("ends work at stand %d, where nobody is", l.Stand)
		case s.list[i].Hands > 0 && l.at.Before(s.list[i].Begun):
			return fmt.Sprintf("ends work at stand %d before it began: look whether the clock is right", l.Stand)
		}
	}
	return ""
}

// take counts a line in, or returns why it cannot come next.
func (s *state) take(l line) string {
	if wrong := s.wrong(l); wrong != "" {
		return wrong
	}
	switch l.Do {
	case up:
		s.count++
		s.up[l.Holes] = ticked{Tick{l.piece(), l.Layout, l.at}, s.count}
		delete(s.left, l.Holes)
		return ""
	case down:
		delete(s.up, l.Holes)
		return ""
	case left:
		s.count++
		if was, hung := s.up[l.Holes]; hung {
			s.left[l.Holes] = ticked{was.Tick, s.count}
		}
		delete(s.up, l.Holes)
		return ""
	}
	key := standKey{l.Layout, l.Stand}
	i, known := s.stands[key]
	if !known {
		i = len(s.list)
		s.stands[key] = i
		s.list = append(s.list, Stand{Layout: l.Layout, Number: l.Stand})
	}
	stand := &s.list[i]
	switch l.Do {
	case begin:
		stand.Begun, stand.Hands, stand.Done = l.at, l.Hands, false
		return ""
	case minutes:
		stand.Said, stand.Spans = l.Minutes, nil
		return ""
	}
	if stand.Hands > 0 {
		stand.Spans = append(stand.Spans, Span{stand.Begun, l.at, stand.Hands})
	}
	stand.Hands = 0
	if l.Do == end {
		stand.Done, stand.Pieces, stand.Holes = true, l.Pieces, l.Drilled
	}
	return ""
}

// inOrder returns ticks in the order in which they were made.
func inOrder(ticks map[string]ticked) []Tick {
	var all []Tick
	for _, t := range slices.SortedFunc(maps.Values(ticks), func(a, b ticked) int { return cmp.Compare(a.count, b.count) }) {
		all = append(all, t.Tick)
	}
	return all
}

// record returns the state as a record of its own.
func (s *state) record() Record {
	r := s.found
	r.Damaged = slices.Clone(r.Damaged)
	r.Up, r.Left = inOrder(s.up), inOrder(s.left)
	r.Stands = slices.Clone(s.list)
	for i := range r.Stands {
		r.Stands[i].Spans = slices.Clone(r.Stands[i].Spans)
	}
	return r
}
