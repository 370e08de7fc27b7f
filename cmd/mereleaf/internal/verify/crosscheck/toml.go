package crosscheck

import (
	"errors"
	"io/fs"
	"strconv"

	"github.com/pelletier/go-toml/v2/unstable"

	"mereleaf/cmd/mereleaf/internal/diag"
	"mereleaf/cmd/mereleaf/internal/figures"
)

// BindingsFile says which calculator computes which figure set.
const BindingsFile = figures.Folder + "/bindings.toml"

// value is a value of the file with its place, which a decoder into Go types
// would lose.
type value struct {
	pos    diag.Position
	kind   unstable.Kind
	text   string // of a string or number
	fields []field
	items  []value
}

// field is a key with its value.
type field struct {
	pos   diag.Position
	name  string
	value value
}

// table is a [name] or [[name]] with its fields.
type table struct {
	field
	many bool
}

// readTables reads the bindings as the tables they consist of.
func readTables(fsys fs.FS) ([]table, diag.List) {
	b, d := figures.ReadText(fsys, BindingsFile)
	if d != nil {
		return nil, diag.List{*d}
	}
	r := reader{text: b}
	r.parser.Reset(b)
	for r.parser.NextExpression() {
		r.expression(r.parser.Expression())
	}
	if err := r.parser.Error(); err != nil {
		at := diag.Position{File: BindingsFile}
		var bad *unstable.ParserError
		if errors.As(err, &bad) && bad.Highlight != nil {
			at = r.at(r.parser.Range(bad.Highlight))
		}
		r.list.Add(diag.Diagnostic{Position: at, Problem: "this is not TOML: " + err.Error(), Want: "[[set]] entries of key = value", Remedy: "correct the syntax here"})
	}
	return r.tables, r.list
}

type reader struct {
	text   []byte
	parser unstable.Parser
	tables []table
	list   diag.List
}

func (r *reader) at(raw unstable.Range) diag.Position {
	return diag.At(BindingsFile, r.text, int(raw.Offset))
}

func (r *reader) expression(n *unstable.Node) {
	switch n.Kind {
	case unstable.Table, unstable.ArrayTable:
		name, pos := r.key(n)
		r.tables = append(r.tables, table{field{pos: pos, name: name}, n.Kind == unstable.ArrayTable})
	case unstable.KeyValue:
		f := r.field(n)
		if len(r.tables) == 0 {
			r.list.Add(diag.Diagnostic{Position: f.pos, Problem: "the key " + f.name + " belongs to no entry", Want: "[[set]] before it", Remedy: "name the figure set first"})
			return
		}
		t := &r.tables[len(r.tables)-1]
		t.value.fields = append(t.value.fields, f)
	}
}

// key returns a key and its place. A key with dots is refused by being no name
// that is known.
func (r *reader) key(n *unstable.Node) (string, diag.Position) {
	name, pos := "", diag.Position{File: BindingsFile}
	for it := n.Key(); it.Next(); {
		part := it.Node()
		if name != "" {
			name += "."
		} else {
			pos = r.at(part.Raw)
		}
		name += string(part.Data)
	}
	return name, pos
}

func (r *reader) field(n *unstable.Node) field {
	name, pos := r.key(n)
	v := r.value(n.Value())
	if v.pos.Line == 0 {
		v.pos = pos
	}
	return field{pos: pos, name: name, value: v}
}

func (r *reader) value(n *unstable.Node) value {
	v := value{kind: n.Kind, text: string(n.Data)}
	if n.Raw.Length > 0 {
		v.pos = r.at(n.Raw)
	}
	switch n.Kind {
	case unstable.InlineTable:
		for it := n.Children(); it.Next(); {
			v.fields = append(v.fields, r.field(it.Node()))
		}
	case unstable.Array:
		for it := n.Children(); it.Next(); {
			if it.Node().Kind != unstable.Comment {
				v.items = append(v.items, r.value(it.Node()))
			}
		}
	}
	return v
}

// number returns a number; false if the value is not one.
func (v value) number() (float64, bool) {
	if v.kind != unstable.Float && v.kind != unstable.Integer {
		return 0, false
	}
	x, err := strconv.ParseFloat(v.text, 64)
	return x, err == nil
}
