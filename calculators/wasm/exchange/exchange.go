// Package exchange is the talk between a page and the calculators' WebAssembly
// module: a request in plain lines, a reply in JSON.
//
//	free-ammonia
//	tan=1.5 mg/L
//	ph=8.2
//
// The first line is a calculator's ID, each further one an input's name and
// what the reader wrote. In a value, \n stands for a line end and \\ for a
// backslash; rows of a list are parted by semicolons. The reply is one of
//
//	{"ok":true,"html":"…","values":{"toxic":"0.095 mg/L"}}
//	{"ok":false,"html":"…","errors":[{"input":"ph","text":"is 15; expected 4 to 11"}]}
//
// where html is made by package answer.
//
// A first line that begins with a question mark asks only whether values are within
// the limits that are declared for them, each on its own: "? free-ammonia" names
// inputs of that calculator, and "?" alone the keys of a pond record, whose values one
// of the calculators must take that ask for them. The reply lists what is refused.
//
//	?
//	volume=9100 L
//	ph=74
package exchange

import (
	"strings"

	"mereleaf/calculators"
	"mereleaf/calculators/answer"
	"mereleaf/calculators/quantity"
)

// Longest is the length in bytes beyond which a request is refused. A long list
// of fish is a tenth of it.
const Longest = 1 << 16

// Reply answers a request. Whatever the request holds, it returns a reply: a
// module that stopped would take every calculator of the page with it.
func Reply(set calculators.Set, request string) (reply string) {
	defer func() {
		if recover() != nil {
			reply = refusal(calculators.InputErrors{{Input: "calculator", Problem: "failed on these numbers", Remedy: "report it with the numbers, and do not use its answer"}})
		}
	}()
	if len(request) > Longest {
		return refusal(calculators.InputErrors{{Input: "request", Problem: "is too long", Remedy: "shorten the list"}})
	}
	id, args, err := read(request)
	if err != nil {
		return refusal(err)
	}
	if of, ok := strings.CutPrefix(id, "?"); ok {
		return checked(set, strings.TrimSpace(of), args)
	}
	c, ok := set.Find(id)
	if !ok {
		return refusal(calculators.InputErrors{{Input: "calculator", Problem: `"` + id + `" is not in this module`, Remedy: "reload the page"}})
	}
	v, failure := c.Reckon(args)
	if failure != nil {
		return refusal(faults(failure))
	}
	return accepted(v)
}

// checked answers whether values are within their limits.
func checked(set calculators.Set, id string, args []calculators.Arg) string {
	c, one := set.Find(id)
	var errs calculators.InputErrors
	for _, a := range args {
		var err error
		if d, known := c.Input(a.Name); one && known {
			err = d.Check(a.Value)
		} else if !one {
			err = set.CheckKept(a.Name, a.Value)
		}
		if refused, ok := err.(calculators.InputErrors); ok && len(refused) > 0 {
			first := refused[0]
			if _, row, ok := strings.Cut(first.Input, " "); ok {
				first.Problem = quantity.Put("{problem} in {row}", "row", row, "problem", first.Problem)
			}
			first.Input = a.Name
			errs = append(errs, first)
		}
	}
	if len(errs) > 0 {
		return refusal(errs)
	}
	return `{"ok":true,"html":"","values":{}}`
}

// Write makes a request. It is what the page's script does, for tests and other
// Go programs.
func Write(id string, args []calculators.Arg) string {
	var b strings.Builder
	b.WriteString(id)
	for _, a := range args {
		b.WriteString("\n" + a.Name + "=" + strings.ReplaceAll(strings.ReplaceAll(a.Value, `\`, `\\`), "\n", `\n`))
	}
	return b.String()
}

func read(request string) (id string, args []calculators.Arg, errs calculators.InputErrors) {
	id, rest, _ := strings.Cut(strings.ToValidUTF8(request, "\uFFFD"), "\n")
	for line := range strings.SplitSeq(rest, "\n") {
		if line == "" {
			continue
		}
		name, value, ok := strings.Cut(line, "=")
		if !ok {
			errs = append(errs, calculators.InputError{Input: name, Problem: "has no value", Accept: "name=value"})
			continue
		}
		args = append(args, calculators.Arg{Name: name, Value: unescape(value)})
	}
	return strings.TrimSpace(id), args, errs
}

func unescape(s string) string {
	var b strings.Builder
	for i := 0; i < len(s); i++ {
		if s[i] == '\\' && i+1 < len(s) {
			i++
			if s[i] == 'n' {
				b.WriteByte('\n')
				continue
			}
		}
		b.WriteByte(s[i])
	}
	return b.String()
}

func faults(err error) calculators.InputErrors {
	if errs, ok := err.(calculators.InputErrors); ok {
		return errs
	}
	return calculators.InputErrors{{Input: "calculator", Problem: err.Error()}}
}

func accepted(v calculators.View) string {
	var b strings.Builder
	b.WriteString(`{"ok":true,"html":`)
	quote(&b, answer.HTML(v))
	b.WriteString(`,"values":{`)
	for i, s := range v.Values {
		if i > 0 {
			b.WriteByte(',')
		}
		quote(&b, s.Name)
		b.WriteByte(':')
		quote(&b, s.Text)
	}
	b.WriteString("}}")
	return b.String()
}

func refusal(errs calculators.InputErrors) string {
	var b strings.Builder
	b.WriteString(`{"ok":false,"html":`)
	quote(&b, answer.Errors(errs))
	b.WriteString(`,"errors":[`)
	for i, e := range errs {
		if i > 0 {
			b.WriteByte(',')
		}
		b.WriteString(`{"input":`)
		quote(&b, e.Input)
		b.WriteString(`,"text":`)
		quote(&b, e.Fault())
		b.WriteByte('}')
	}
	b.WriteString("]}")
	return b.String()
}

// quote writes a JSON string, RFC 8259 section 7. It copies what needs no escape
// in runs, for the HTML of an answer is long and is written at every keystroke.
func quote(b *strings.Builder, s string) {
	const hex = "0123456789abcdef"
	s = strings.ToValidUTF8(s, "\uFFFD")
	b.Grow(len(s) + len(s)/8)
	b.WriteByte('"')
	done := 0
	for i := range len(s) {
		c := s[i]
		if c >= ' ' && c != '"' && c != '\\' {
			continue
		}
		b.WriteString(s[done:i])
		done = i + 1
		switch {
		case c >= ' ':
			b.WriteByte('\\')
			b.WriteByte(c)
		case c == '\n':
			b.WriteString(`\n`)
		default:
			b.WriteString(`\u00`)
			b.WriteByte(hex[c>>4])
			b.WriteByte(hex[c&15])
		}
	}
	b.WriteString(s[done:])
	b.WriteByte('"')
}
