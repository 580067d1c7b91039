// Package browsertest looks at the pages of package web in a real browser. It
// holds tests only: a repair clicked through on a phone's and a desk's screen,
// the same by keyboard alone, and every screen of the gallery checked for sideways
// scrolling, for targets too small for a thumb, and with axe-core, in light and dark.
//
// The tests want a Chromium. They fail without one, because a check that skips
// itself is none; set FETTLER_NO_BROWSER where there really cannot be one.
//
//	go test ./internal/web/browsertest
//	go test ./internal/web/browsertest -run 'Pictures|ClickThrough' -pictures ../../../docs/pictures [-every]
package browsertest
