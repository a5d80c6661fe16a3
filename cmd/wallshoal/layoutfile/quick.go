package layoutfile

import (
	"bytes"
	"math"
	"strconv"
	"strings"

	"wallshoal/cmd/wallshoal/yamlfile"
	"wallshoal/scatter"
	"wallshoal/scatter/heading"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// quick reads a file that has the very form in which Write leaves it and nothing wrong with it, in
// a tenth of the time and memory that YAML takes. Of any other file it says that it cannot.
func quick(data []byte, n names) (scatter.Layout, Lines, bool) {
	var l scatter.Layout
	if len(data) > MaxBytes || bytes.IndexByte(data, '\r') >= 0 {
		return l, nil, false
	}
	lines := strings.Split(string(data), "\n")
	seed, rest, ok := quickHead(lines)
	if !ok {
		return l, nil, false
	}
	l.Seed = seed
	seen := make(Lines, len(rest))
	for i, line := range rest {
		if line == "" {
			continue
		}
		p, ok := quickPiece(line, n)
		if !ok || seen[p.ID] > 0 || len(l.Pieces) == scatter.MaxPieces {
			return l, nil, false
		}
		seen[p.ID] = len(lines) - len(rest) + i + 1
		l.Pieces = append(l.Pieces, p)
	}
	return l, seen, len(l.Pieces) > 0
}

// quickHead reads the lines down to the pieces.
func quickHead(lines []string) (seed uint64, rest []string, ok bool) {
	seeds := 0
	for i, line := range lines {
		digits, isSeed := strings.CutPrefix(line, "seed: ")
		switch {
		case isSeed:
			n, err := strconv.ParseUint(digits, 10, 64)
			if err != nil {
				return 0, nil, false
			}
			seed = n
			seeds++
		case line == "pieces:":
			return seed, lines[i+1:], seeds == 1
		case line == "":
		case line[0] == '#':
			if strings.ContainsFunc(line, yamlfile.Hidden) || strings.ToValidUTF8(line, "") != line {
				return 0, nil, false
			}
		default:
			return 0, nil, false
		}
	}
	return 0, nil, false
}

// quickPiece reads the line of a piece.
func quickPiece(line string, n names) (p scatter.Piece, ok bool) {
	s := quickScanner{rest: line, ok: true}
	s.skip("- {id: ")
	id := s.until(", kind: ")
	code := s.word(", kind: ")
	wallName := s.word(", wall: ")
	faceName := s.word(", face: ")
	s.skip(", at: [")
	x := s.number(", ")
	y := s.number("], heading: ")
	degrees, locked := s.end()
	number, err := strconv.Atoi(id)
	kind, okKind := n.kind[code]
	face, okFace := n.face[[2]string{wallName, faceName}]
	if !s.ok || err != nil || id[0] == '+' || number < 1 || number > maxID || !okKind || !okFace || !n.takes(face) ||
		math.Abs(x) > wall.MaxLength || math.Abs(y) > wall.MaxLength || !(degrees >= 0 && degrees <= 360) {
		return p, false
	}
	p = scatter.Piece{ID: number, Kind: kind, Face: face, At: plane.Point{X: x, Y: y}, Heading: heading.Bearing(math.Mod(degrees, 360)), Locked: locked}
	_, on := n.holds(face, p.At)
	return p, on
}

// A quickScanner reads a line from left to right; ok stays true as long as all is as expected.
type quickScanner struct {
	rest string
	ok   bool
}

func (s *quickScanner) skip(text string) {
	rest, ok := strings.CutPrefix(s.rest, text)
	s.rest, s.ok = rest, s.ok && ok
}

// until returns what stands before mark, and leaves mark to be read.
func (s *quickScanner) until(mark string) string {
	i := strings.Index(s.rest, mark)
	if i < 0 {
		s.ok = false
		return " "
	}
	found := s.rest[:i]
	s.rest = s.rest[i:]
	return found
}

// word skips mark and reads a word as Write writes it.
func (s *quickScanner) word(mark string) string {
	s.skip(mark)
	if quoted, ok := strings.CutPrefix(s.rest, `"`); ok {
		s.rest = quoted
		text := s.until(`"`)
		s.skip(`"`)
		s.ok = s.ok && !strings.Contains(text, `\`)
		return text
	}
	text := s.until(",")
	s.ok = s.ok && word(text) == text
	return text
}

// number reads a number in full and skips the mark after it.
func (s *quickScanner) number(mark string) float64 {
	text := s.until(mark)
	s.skip(mark)
	return s.decimal(text)
}

func (s *quickScanner) decimal(text string) float64 {
	v, err := strconv.ParseFloat(text, 64)
	if err != nil || strings.Trim(text, "-.0123456789") != "" || len(text) > yamlfile.MaxNumber {
		s.ok = false
	}
	return v
}

// end reads the heading and the rest of the line.
func (s *quickScanner) end() (degrees float64, locked bool) {
	text, ok := strings.CutSuffix(s.rest, "}")
	s.ok = s.ok && ok
	text, locked = strings.CutSuffix(text, ", locked: true")
	return s.decimal(text), locked
}
