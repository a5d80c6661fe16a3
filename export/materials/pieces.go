// Package materials says how many pieces to make, what they take, how coats are mixed, and what to buy.
//
// It reckons exactly. What is bought is whole packs; what is mixed is whole measuring steps of every
// part, so that each batch of a recipe has the same proportions as the last.
package materials

import (
	"fmt"
	"math"

	"wallshoal/export/decimal"
	"wallshoal/wall"
)

// A Kind is one kind and form of piece, as the layout counts it.
type Kind struct {
	Code, Name string
	Placed     int
	Holes      int     // in the wall, of one piece
	Area       float64 // of its outline, mm²
	Stock      int     // pieces in hand
}

// Spares is how many pieces are made beyond those placed, of each kind that is placed at all.
type Spares struct {
	Share decimal.Number // of those placed, rounded up
	Least int
}

// A Piece is how many of a kind are made: Placed + Spare - Stock, or none.
type Piece struct {
	Kind
	Spare, Make int
}

// MaxPieces is the most pieces of a kind, in hand or placed.
const MaxPieces = 200_000

// Pieces returns how many of each kind to make. The error is a wall.Problem.
func Pieces(kinds []Kind, s Spares) ([]Piece, error) {
	if s.Share.Sign() < 0 || s.Share.Cmp(decimal.Of(10)) > 0 || s.Least < 0 || s.Least > MaxPieces {
		return nil, wall.Problem{Field: "spares", Wrong: "so many spares cannot be", Fix: "give a share from 0 to 1000 % and a number from 0"}
	}
	out := make([]Piece, len(kinds))
	for i, k := range kinds {
		if k.Stock < 0 || k.Stock > MaxPieces {
			return nil, wall.Problem{Field: "stock." + k.Code, Wrong: fmt.Sprintf("%d pieces cannot be in hand", k.Stock),
				Fix: fmt.Sprintf("give a number from 0 to %d", MaxPieces)}
		}
		out[i].Kind = k
		if k.Placed > 0 {
			out[i].Spare = max(s.Least, s.Share.Mul(decimal.Of(k.Placed)).Ceil().Int())
		}
		out[i].Make = max(0, k.Placed+out[i].Spare-k.Stock)
	}
	return out, nil
}

// area returns the area of an outline in m², to 0.01 mm².
func (k Kind) area() decimal.Number {
	return decimal.Ratio(int64(math.Round(k.Area*100)), 100_000_000)
}
