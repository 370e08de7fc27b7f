package quantity

// lower turns the letters A to Z into small ones. No unit and no option has
// others, and the tables of package unicode would add 6 kB to the module.
func lower(s string) string {
	at := 0
	for at < len(s) && (s[at] < 'A' || s[at] > 'Z') {
		at++
	}
	if at == len(s) {
		return s
	}
	b := []byte(s)
	for i, c := range b[at:] {
		if c >= 'A' && c <= 'Z' {
			b[at+i] = c + 'a' - 'A'
		}
	}
	return string(b)
}

// SameLetters reports whether two words are the same but for the case of the
// letters A to Z.
func SameLetters(a, b string) bool { return lower(a) == lower(b) }
