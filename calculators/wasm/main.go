//go:build wasip1

// Command wasm is the calculators as a WebAssembly module. It is built as a
// reactor,
//
//	GOOS=wasip1 GOARCH=wasm go build -buildmode=c-shared ./calculators/wasm
//
// which a host starts once by calling _initialize and then asks as often as it
// likes by calling reckon. The module keeps no numbers between two calls. Memory
// is handed over by two functions that the host provides: take copies the
// request into the module, give copies the reply out of it.
package main

import (
	"mereleaf/calculators/catalog"
	"mereleaf/calculators/wasm/exchange"
)

// set is made once, when the module starts: to declare every calculator anew took
// longer than most of them compute.
var set = catalog.All()

// ballast is never written, so it costs a phone addresses and no memory. The
// garbage collector runs whenever the heap has doubled; without this it would run
// every second keystroke, for a quarter of the time of a build sheet. To ask for
// rarer runs (debug.SetGCPercent) would add 80 kB to the module.
var ballast = make([]byte, 24<<20)

// reckon answers a request of size bytes, in the form that package exchange
// describes.
//
//go:wasmexport reckon
func reckon(size int32) {
	// The rest of a request that is too long is not fetched: exchange refuses it
	// by its length.
	request := make([]byte, min(max(int(size), 0), exchange.Longest+1)+1)
	request = request[:take(&request[0], int32(len(request)-1))]
	reply := append([]byte(exchange.Reply(set, string(request))), 0)
	give(&reply[0], int32(len(reply)-1))
}

// take asks the host to write at most size bytes of the request at to, and
// returns how many it wrote.
//
//go:wasmimport page take
func take(to *byte, size int32) int32

// give offers the host the reply, size bytes at from.
//
//go:wasmimport page give
func give(from *byte, size int32)

func main() {}
