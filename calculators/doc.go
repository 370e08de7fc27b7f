// Package calculators declares what a calculator of the handbook is: its
// inputs, outputs, formulas with sources, cautions, worked example, and one
// pure function. Everything that shows a calculator is made from that one
// declaration: the form and its answer in a page, the command line, the lookup
// table and chart for a page without JavaScript, the printed page, the tests.
//
// The packages beside this one (pond, water, fish, media, plumbing) hold the
// formulas; package catalog puts their declarations into one Set. All of it
// uses the standard library only, and neither fmt nor encoding/json, because
// the same code runs in the page as WebAssembly. What the module need not know
// is declared where Documented holds; and a Result takes its sentences whole,
// with gaps for the numbers, because every call and every joined text adds to
// what a phone must fetch.
package calculators
