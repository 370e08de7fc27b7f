// Package browser holds the tests that open the made handbook in a real
// Chromium, as a keeper's phone does. It has no code of its own.
//
// The tests need Chromium on the machine ("chromium" in PATH, or its path in
// MERELEAF_CHROMIUM). Without it they skip, and fail where CI is set. The test
// of accessibility needs the axe-core script, whose path is in MERELEAF_AXE.
// With MERELEAF_SHOTS naming a folder, TestPictures and others leave pictures there
// to look at; with MERELEAF_HEADED=1 the browser shows its window.
package browser
