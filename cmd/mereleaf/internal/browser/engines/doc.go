// Package engines drives three browsers in one way: Chromium by its own protocol,
// Firefox by WebDriver BiDi, and WebKitGTK, which has Safari's engine, by WebDriver.
// Its tests go in each of them through what every reader does with the made handbook;
// at Chromium the packages beside it look more closely.
//
// They need Debian's packages chromium, firefox-esr, and webkit2gtk-driver with xvfb,
// for WebKitGTK does not run without a screen. What is missing is skipped, and fails
// where CI is set. MERELEAF_CHROMIUM and MERELEAF_FIREFOX name another browser; with
// MERELEAF_HEADED=1 these two show their windows.
//
// It touches files, other programs and the network.
package engines
