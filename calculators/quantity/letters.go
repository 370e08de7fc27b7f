package quantity

// lower turns the letters A to Z into small ones. No unit and no option has
// others, and the tables of package unicode would add 6 kB to the module.
func lower(s string) string {
	b := []byte(s)
	for i, c := range b {
		if c >= 'A' && c <= 'Z' {
			b[i] = c + 'a' - 'A'
		}
	}
	return string(b)
}

// SameLetters reports whether two words are the same but for the case of the
// letters A to Z.
func SameLetters(a, b string) bool { return lower(a) == lower(b) }
