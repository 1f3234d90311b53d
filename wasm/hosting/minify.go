package hosting

import (
	"bytes"
	"fmt"

	"github.com/tdewolff/minify/v2"
	"github.com/tdewolff/minify/v2/css"
	"github.com/tdewolff/minify/v2/js"
)

func (s *Site) addMinified(p, kind string, source []byte) error {
	smaller, err := minified(kind, source)
	if err != nil {
		return fmt.Errorf("%s: %w", p, err)
	}
	s.add(p, kind, smaller)
	return nil
}

// minified leaves out of a script or a style sheet what only those who write it need.
// Names stay as they are, so that a report of a fault can be read, and the language
// stays that of the oldest browsers that run the program.
func minified(kind string, source []byte) ([]byte, error) {
	var smaller bytes.Buffer
	var err error
	switch all, from := minify.New(), bytes.NewReader(source); kind {
	case kinds[".js"]:
		err = (&js.Minifier{KeepVarNames: true, Version: 2022}).Minify(all, &smaller, from, nil)
	case kinds[".css"]:
		err = (&css.Minifier{}).Minify(all, &smaller, from, nil)
	default:
		panic("no way to minify " + kind)
	}
	if err != nil {
		return nil, err
	}
	return smaller.Bytes(), nil
}
