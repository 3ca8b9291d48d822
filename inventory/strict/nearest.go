package strict

import "strings"

// Nearest is the candidate that a word was most likely meant to be, or "" if none is near: at most
// a third of its letters differ, or it says the same with another unit or none.
func Nearest(word string, candidates []string) string {
	best, least := "", 1<<30
	w := plainWord(word)
	if len(w) == 0 || len(w) > 64 {
		return ""
	}
	for _, c := range candidates {
		p := plainWord(c)
		distance := editDistance(w, p)
		limit := (max(len(w), len(p)) + 1) / 3
		stem, _, _ := strings.Cut(c, "_")
		if own, _, _ := strings.Cut(strings.ToLower(word), "_"); own == stem && len(stem) > 2 {
			limit += 3 // mass, mass_kg, mass_grams for mass_g
		}
		if distance <= limit && distance < least {
			best, least = c, distance
		}
	}
	return best
}

func plainWord(s string) string {
	return strings.Map(func(r rune) rune {
		if r == '_' || r == '-' || r == ' ' {
			return -1
		}
		return r
	}, strings.ToLower(s))
}

// editDistance counts insertions, deletions, substitutions and swaps of neighbours between two
// words (optimal string alignment, from memory).
func editDistance(a, b string) int {
	x, y := []rune(a), []rune(b)
	before, last, row := make([]int, len(y)+1), make([]int, len(y)+1), make([]int, len(y)+1)
	for j := range last {
		last[j] = j
	}
	for i := 1; i <= len(x); i++ {
		row[0] = i
		for j := 1; j <= len(y); j++ {
			cost := 1
			if x[i-1] == y[j-1] {
				cost = 0
			}
			row[j] = min(last[j]+1, row[j-1]+1, last[j-1]+cost)
			if i > 1 && j > 1 && x[i-1] == y[j-2] && x[i-2] == y[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
		}
		before, last, row = last, row, before
	}
	return last[len(y)]
}
