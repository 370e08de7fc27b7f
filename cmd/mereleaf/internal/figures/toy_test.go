package figures

import (
	"strings"
	"testing"
	"testing/fstest"

	"mereleaf/cmd/mereleaf/internal/diag"
)

// The sets here are invented: they test the reader and the matching, never what
// the handbook says.

const toySources = `[
  {"id": "toy-2001", "type": "book", "title": "Toys", "author": [{"family": "Brook"}], "issued": {"date-parts": [[2001]]}},
  {"id": "toy-2002", "type": "book", "title": "More toys"}
]
`

func toyFiles(sets map[string]string) fstest.MapFS {
	files := fstest.MapFS{SourcesFile: {Data: []byte(toySources)}}
	for name, text := range sets {
		files[Folder+"/"+name+".csv"] = &fstest.MapFile{Data: []byte(text)}
	}
	return files
}

const origin = ",source,locator,basis,note\n"

var toySets = map[string]string{
	"toy-air": "temperature [Cel],salt [g/kg],air [mg/L]" + origin +
		"10,0,11.25,toy-2001,p. 1,published,\n" +
		"10,20,9.96,toy-2001,p. 1,published,\n" +
		"20,0,9.08,toy-2001,p. 1,published,\n" +
		"20,20,8.14,toy-2001,p. 1,published,\n" +
		"30,0,7.5,toy-2001,p. 1,published,\n",
	"toy-stone": "stone,surface_min [m2/m3],surface_max [m2/m3],voids [1],bore [[in_i]],bed [L]" + origin +
		"gravel,330,390,0.4,1.5,1234.5,,,practice,\n" +
		"brick,150,,0.45,0.4375,2000,,,practice,\n" +
		"foam,,500,0.97,1.25,50,toy-2002,,library,\n" +
		"glass,200,200,0.6,2,75,,,practice,\n" +
		"mystery,1,2,0.5,1,1,,,scenario,\n",
	"toy-limit": "limit,comparator,value [mg/L],value [Cel],open max [mm]" + origin +
		"good water,<=,0.02,,5,,,practice,\n" +
		"warm,>=,,25,6,,,practice,\n",
	"toy-list": "quantity,value,unit" + origin +
		"hole,12,mm,,,practice,\n" +
		"share,7,%,,,practice,\n" +
		"word,any,1,,,practice,\n",
	"toy-length": "plank,length [[ft_i]]" + origin + "oak,4.5,,,practice,\npine,6.25,,,practice,\n",
}

func toyLibrary(t testing.TB) *Library {
	t.Helper()
	lib, list := Read(toyFiles(toySets))
	for _, d := range list {
		t.Fatal(d)
	}
	return lib
}

// unmark takes the marks ¦ out of a text and returns where they stood.
func unmark(file, text string) (string, []diag.Position) {
	var at []diag.Position
	for {
		i := strings.Index(text, "¦")
		if i < 0 {
			return text, at
		}
		text = text[:i] + text[i+len("¦"):]
		at = append(at, diag.At(file, []byte(text), i))
	}
}
