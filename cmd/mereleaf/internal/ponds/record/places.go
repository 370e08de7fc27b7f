package record

import (
	"bytes"
	"encoding/json"
	"strings"

	"mereleaf/cmd/mereleaf/internal/diag"
)

// placesOf returns where the members of a record stand, and where its facts do, by
// key. The text is JSON and an object.
func placesOf(file string, text []byte) (members, facts map[string]diag.Position) {
	facts = map[string]diag.Position{}
	w := walker{file, text, json.NewDecoder(bytes.NewReader(text))}
	members = w.object(func(name string) {
		if name == "facts" && w.opens() {
			facts = w.object(func(string) { w.skip() })
			return
		}
		w.skip()
	})
	return members, facts
}

// walker goes through a text of which it is known that it is JSON.
type walker struct {
	file string
	text []byte
	*json.Decoder
}

// object goes through an object whose members have their values read by value,
// and returns where their names stand.
func (w walker) object(value func(name string)) map[string]diag.Position {
	places := map[string]diag.Position{}
	_, _ = w.Token() // the brace
	for w.More() {
		at := diag.At(w.file, w.text, w.next())
		token, err := w.Token()
		if err != nil {
			return places
		}
		name, _ := token.(string)
		places[name] = at
		value(name)
	}
	_, _ = w.Token() // the closing brace
	return places
}

// next is the offset of the next token.
func (w walker) next() int {
	at := int(w.InputOffset())
	for at < len(w.text) && strings.IndexByte(" \t\r\n,:", w.text[at]) >= 0 {
		at++
	}
	return at
}

// opens reports whether the next value is an object.
func (w walker) opens() bool { return bytes.HasPrefix(w.text[w.next():], []byte("{")) }

func (w walker) skip() {
	var value json.RawMessage
	_ = w.Decode(&value)
}
