package main_test

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/tetratelabs/wazero"
	"github.com/tetratelabs/wazero/api"
	"github.com/tetratelabs/wazero/imports/wasi_snapshot_preview1"

	"mereleaf/calculators"
	"mereleaf/calculators/answer"
	"mereleaf/calculators/catalog"
	"mereleaf/calculators/pondtest"
	"mereleaf/calculators/wasm/exchange"
)

// build compiles the module as the handbook does.
func build(t *testing.T) []byte {
	t.Helper()
	tool, err := exec.LookPath("go")
	if err != nil {
		if os.Getenv("CI") != "" {
			t.Fatal("no go command on the PATH: the module cannot be built")
		}
		t.Skip("no go command on the PATH: the module cannot be built")
	}
	out := filepath.Join(t.TempDir(), "reckon.wasm")
	cmd := exec.Command(tool, "build", "-buildmode=c-shared", "-trimpath", "-buildvcs=false", "-gcflags=all=-l", "-ldflags=-s -w -buildid=", "-o", out, ".")
	cmd.Env = append(os.Environ(), "GOOS=wasip1", "GOARCH=wasm", "CGO_ENABLED=0")
	if said, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, said)
	}
	module, err := os.ReadFile(out)
	if err != nil {
		t.Fatal(err)
	}
	return module
}

// host is a page: it hands requests in and takes replies out.
type host struct {
	ctx            context.Context
	module         api.Module
	request, reply []byte
}

func start(t *testing.T, module []byte) *host {
	t.Helper()
	h := &host{ctx: t.Context()}
	r := wazero.NewRuntime(h.ctx)
	t.Cleanup(func() {
		if err := r.Close(context.Background()); err != nil {
			t.Error(err)
		}
	})
	wasi_snapshot_preview1.MustInstantiate(h.ctx, r)
	_, err := r.NewHostModuleBuilder("page").
		NewFunctionBuilder().WithFunc(h.take).Export("take").
		NewFunctionBuilder().WithFunc(h.give).Export("give").
		Instantiate(h.ctx)
	if err != nil {
		t.Fatal(err)
	}
	h.module, err = r.InstantiateWithConfig(h.ctx, module, wazero.NewModuleConfig().WithStartFunctions("_initialize"))
	if err != nil {
		t.Fatal(err)
	}
	return h
}

func (h *host) take(_ context.Context, m api.Module, to, size uint32) uint32 {
	n := min(size, uint32(len(h.request)))
	if !m.Memory().Write(to, h.request[:n]) {
		panic(errors.New("the module takes its request outside its memory"))
	}
	return n
}

func (h *host) give(_ context.Context, m api.Module, from, size uint32) {
	reply, ok := m.Memory().Read(from, size)
	if !ok {
		panic(errors.New("the module gives its reply outside its memory"))
	}
	h.reply = bytes.Clone(reply)
}

func (h *host) ask(t *testing.T, request string) string {
	t.Helper()
	h.request, h.reply = []byte(request), nil
	if _, err := h.module.ExportedFunction("reckon").Call(h.ctx, uint64(len(request))); err != nil {
		t.Fatalf("the module stopped on %q: %v", request, err)
	}
	return string(h.reply)
}

// The same Go computes in the page: every answer that the handbook prints must
// come out of the module letter for letter.
func TestModuleAgreesWithNative(t *testing.T) {
	h := start(t, build(t))
	all := pondtest.All(t).All()
	if len(all) == 0 {
		t.Fatal("the catalogue is empty")
	}
	for _, c := range all {
		t.Run(c.ID, func(t *testing.T) {
			agree(t, h, c, c.Example.Given)
			for _, args := range lookups(c) {
				agree(t, h, c, args)
			}
		})
	}
}

func lookups(c calculators.Calculator) [][]calculators.Arg {
	var all [][]calculators.Arg
	for _, row := range c.Lookup.Rows.Values {
		args := calculators.With(c.Lookup.Given, calculators.Arg{Name: c.Lookup.Rows.Input, Value: row})
		if len(c.Lookup.Columns.Values) == 0 {
			all = append(all, args)
		}
		for _, column := range c.Lookup.Columns.Values {
			all = append(all, calculators.With(args, calculators.Arg{Name: c.Lookup.Columns.Input, Value: column}))
		}
	}
	return all
}

func agree(t *testing.T, h *host, c calculators.Calculator, args []calculators.Arg) {
	t.Helper()
	native, err := c.Reckon(args)
	if err != nil {
		t.Errorf("%v: %v", args, err)
		return
	}
	var reply struct {
		HTML   string
		Values map[string]string
	}
	if err := json.Unmarshal([]byte(h.ask(t, exchange.Write(c.ID, args))), &reply); err != nil {
		t.Fatal(err)
	}
	for _, v := range native.Values {
		if got := reply.Values[v.Name]; got != v.Text {
			t.Errorf("%v: %s is %q in the module, %q natively", args, v.Name, got, v.Text)
		}
	}
	if want := answer.HTML(native); reply.HTML != want {
		t.Errorf("%v: the module shows\n%s\nnatively it is\n%s", args, reply.HTML, want)
	}
}

// After a bad request the module must still answer good ones, and refuse with
// the same words as native code.
func TestModuleSurvivesBadRequests(t *testing.T) {
	h := start(t, build(t))
	c := pondtest.All(t).All()[0]
	good := exchange.Write(c.ID, c.Example.Given)
	want := h.ask(t, good)
	for _, bad := range []string{"", "\x00", "nonesuch", c.ID, c.ID + "\n=", c.ID + "\n" + strings.Repeat("\xff\n", 1000), good + "\n" + good, c.ID + "\nx=" + strings.Repeat("9", exchange.Longest+5000)} {
		if got, native := h.ask(t, bad), exchange.Reply(catalog.All(), bad); got != native {
			t.Errorf("the module answers a bad request with %.200s; natively it is %.200s", got, native)
		}
		if got := h.ask(t, good); got != want {
			t.Errorf("after a bad request the answer is %.200s; want %.200s", got, want)
		}
	}
	for _, size := range []uint64{0, 1 << 31, 1<<32 - 1} {
		h.request = []byte(good)
		if _, err := h.module.ExportedFunction("reckon").Call(h.ctx, size); err != nil {
			t.Errorf("the module stopped on a request said to be %d bytes long: %v", size, err)
		}
	}
}

// What the module must do without: each of these adds its weight again.
func TestModuleLeavesOutHeavyPackages(t *testing.T) {
	tool, err := exec.LookPath("go")
	if err != nil {
		t.Skip("no go command on the PATH: the module's packages cannot be listed")
	}
	cmd := exec.Command(tool, "list", "-deps", ".")
	cmd.Env = append(os.Environ(), "GOOS=wasip1", "GOARCH=wasm")
	said, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	for path := range strings.FieldsSeq(string(said)) {
		switch path {
		case "fmt", "reflect", "os", "time", "encoding/json", "html/template", "text/template", "html", "regexp", "sort":
			t.Errorf("the module holds package %s", path)
		}
	}
}
