// Package notices holds the licenses of what others have written and the site
// ships, as wasm/notices/write has found them.
package notices

import _ "embed"

// File is a list in JSON of the modules and scripts with their license texts, in
// the order of their names.
//
//go:embed notices.json
var File []byte
