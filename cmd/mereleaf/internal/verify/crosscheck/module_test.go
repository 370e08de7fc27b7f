package crosscheck_test

import (
	"bytes"
	"context"
	"errors"
	"testing"

	"github.com/tetratelabs/wazero"
	"github.com/tetratelabs/wazero/api"
	"github.com/tetratelabs/wazero/imports/wasi_snapshot_preview1"

	"mereleaf/calculators/catalog"
	"mereleaf/calculators/wasm/exchange"
	"mereleaf/cmd/mereleaf/internal/figures"
	"mereleaf/cmd/mereleaf/internal/verify/crosscheck"
	"mereleaf/cmd/mereleaf/internal/website/bundle"
)

// page stands in for the script of a page that talks to the module.
type page struct{ request, reply []byte }

func (p *page) take(_ context.Context, m api.Module, to, size uint32) uint32 {
	n := min(size, uint32(len(p.request)))
	if !m.Memory().Write(to, p.request[:n]) {
		panic(errors.New("the module takes its request outside its memory"))
	}
	return n
}

func (p *page) give(_ context.Context, m api.Module, from, size uint32) {
	reply, ok := m.Memory().Read(from, size)
	if !ok {
		panic(errors.New("the module gives its reply outside its memory"))
	}
	p.reply = bytes.Clone(reply)
}

// module returns a function that puts a request to the handbook's module.
func module(t *testing.T) func(request string) string {
	t.Helper()
	binary, err := bundle.Wasm(t.Context(), "../../../../..", "")
	if err != nil {
		t.Fatal(err)
	}
	r := wazero.NewRuntime(t.Context())
	t.Cleanup(func() {
		if err := r.Close(context.Background()); err != nil {
			t.Error(err)
		}
	})
	wasi_snapshot_preview1.MustInstantiate(t.Context(), r)
	p := &page{}
	if _, err := r.NewHostModuleBuilder("page").
		NewFunctionBuilder().WithFunc(p.take).Export("take").
		NewFunctionBuilder().WithFunc(p.give).Export("give").
		Instantiate(t.Context()); err != nil {
		t.Fatal(err)
	}
	m, err := r.InstantiateWithConfig(t.Context(), binary, wazero.NewModuleConfig().WithStartFunctions("_initialize"))
	if err != nil {
		t.Fatal(err)
	}
	return func(request string) string {
		p.request, p.reply = []byte(request), nil
		if _, err := m.ExportedFunction("reckon").Call(t.Context(), uint64(len(request))); err != nil {
			t.Fatalf("the module stopped on %q: %v", request, err)
		}
		return string(p.reply)
	}
}

// The module in the page shows the same answer as native code, letter for
// letter, for every row of figures that a calculator is bound to.
func TestTheModuleAgreesOnEveryRow(t *testing.T) {
	lib, _ := figures.Read(project())
	cases, list := crosscheck.Cases(lib, catalog.All(), project())
	if err := list.Err(); err != nil {
		t.Fatal(err)
	}
	if len(cases) == 0 {
		t.Fatal("no row is bound to a calculator")
	}
	ask := module(t)
	for _, c := range cases {
		request := exchange.Write(c.Calculator.ID, c.Args)
		if got, want := ask(request), exchange.Reply(catalog.All(), request); got != want {
			t.Errorf("%s: the module answers\n%s\nnatively it is\n%s", c.Set.At(c.Row, 0), got, want)
		}
	}
}
