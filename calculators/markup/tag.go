package markup

import "strings"

// tagEnd returns where the tag, or the comment, that s begins with ends.
func tagEnd(s string) int {
	if strings.HasPrefix(s, "<!--") {
		if end := strings.Index(s, "-->"); end >= 0 {
			return end + len("-->")
		}
		return len(s)
	}
	var quote byte
	for i := range len(s) {
		switch c := s[i]; {
		case quote != 0:
			if c == quote {
				quote = 0
			}
		case c == '"' || c == '\'':
			quote = c
		case c == '>':
			return i + 1
		}
	}
	return len(s)
}

func tagName(tag string) string {
	s := strings.TrimLeft(tag, "</")
	if i := strings.IndexAny(s, " \n\t/>"); i >= 0 {
		return s[:i]
	}
	return s
}

// void reports the elements that HTML never closes.
func void(name string) bool {
	switch name {
	case "area", "base", "br", "col", "embed", "hr", "img", "input", "link", "meta", "source", "track", "wbr":
		return true
	}
	return false
}

// attribute returns the value of an attribute, still escaped.
func attribute(tag, name string) string {
	_, rest, ok := strings.Cut(tag, " "+name+`="`)
	if !ok {
		return ""
	}
	value, _, _ := strings.Cut(rest, `"`)
	return value
}

func withAttribute(tag, name, value string) string {
	if value == "" {
		return tag
	}
	end := len(tag) - len(">")
	if strings.HasSuffix(tag, "/>") {
		end--
	}
	return tag[:end] + " " + name + `="` + Escape(value) + `"` + tag[end:]
}

func hasClass(tag string, names ...string) bool {
	for classes := attribute(tag, "class"); classes != ""; {
		class, rest, _ := strings.Cut(classes, " ")
		for _, name := range names {
			if class == name {
				return true
			}
		}
		classes = rest
	}
	return false
}

// unmarked reports elements whose numbers are no quantities of the page's own, and
// those that are marked.
func (m *marker) unmarked(tag, name string) bool {
	switch name {
	case "code", "pre", "math", "script", "style", "textarea":
		return true
	}
	return attribute(tag, "data-q") != "" || attribute(tag, "data-calculator") == "units" ||
		hasClass(tag, "tex", "formula", "working", "notes", "agreed", "origins", "cite", "source", "sources", "set", "fixed", "unit", "measures", "columns", "links")
}

// unescape returns the text that the source of one stands for.
func unescape(s string) string {
	if strings.IndexByte(s, '&') < 0 {
		return s
	}
	var b strings.Builder
	for s != "" {
		before, rest, ok := strings.Cut(s, "&")
		b.WriteString(before)
		if !ok {
			break
		}
		name, after, ok := strings.Cut(rest, ";")
		c := ""
		switch name {
		case "amp":
			c = "&"
		case "lt":
			c = "<"
		case "gt":
			c = ">"
		case "quot":
			c = `"`
		case "nbsp":
			c = "\u00a0"
		default:
			if digits, ok := strings.CutPrefix(name, "#"); ok {
				c = character(digits)
			}
		}
		if !ok || c == "" {
			b.WriteByte('&')
			s = rest
			continue
		}
		b.WriteString(c)
		s = after
	}
	return b.String()
}

// character is the one of a decimal number; "" if there is none.
func character(digits string) string {
	n := rune(0)
	for i := 0; i < len(digits) && n <= 0x10ffff; i++ {
		if digits[i] < '0' || digits[i] > '9' {
			return ""
		}
		n = 10*n + rune(digits[i]-'0')
	}
	if n == 0 || n > 0x10ffff {
		return ""
	}
	return string(n)
}

// escapeText makes a text safe between tags. What Escape does to quotation marks
// would add to a page for nothing.
func escapeText(s string) string {
	if !strings.ContainsAny(s, "&<>{}") {
		return s
	}
	return strings.ReplaceAll(strings.ReplaceAll(Escape(s), "&#34;", `"`), "&#39;", "'")
}

// utf16Len counts as JavaScript does.
func utf16Len(s string) int {
	n := 0
	for _, r := range s {
		n++
		if r >= 0x10000 {
			n++
		}
	}
	return n
}
