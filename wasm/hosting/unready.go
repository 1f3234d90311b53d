package hosting

import (
	"crypto/sha256"
	"encoding/base64"
	"fmt"
	"strings"
	"time"

	"larderlamp/app/language"
)

// DefaultPatience is how long a page waits for its program before it says, by
// itself, that it cannot be used. Even on a slow phone the program runs sooner.
const DefaultPatience = 10 * time.Second

// firstStyle is all of the style that a page needs to say that something is
// missing: it is in the page itself, so that it is there when nothing else is.
// The notice shows itself after a while, without any script. The program takes
// it away when it runs; the loader shows it sooner when it knows of a failure.
//
// What was prerendered is hidden until the style sheet is there, and shown
// without it after some seconds. So is what waits for the texts of its language.
//
// The notice is there in every language, and is shown in that of the page; where
// scripts are switched off, nothing says which that is, and all are shown.
func firstStyle(patience time.Duration, languages []Language) string {
	other := ""
	for _, l := range append([]Language{{Texts: &language.Texts{Tag: "en"}}}, languages...) {
		if len(languages) > 0 {
			other += fmt.Sprintf(":root:not(:lang(%[1]s)) .unready>[lang=%[1]q]{display:none}\n", l.Texts.Tag)
		}
	}
	if other != "" {
		other = "@media (scripting:enabled){\n" + other + "}\n[data-translates] #before{visibility:hidden;animation:unready-shown 0s UNSTYLED forwards}\n"
	}
	return strings.NewReplacer("PATIENCE", fmt.Sprintf("%gs", patience.Seconds()), "UNSTYLED", fmt.Sprintf("%gs", (patience/2).Seconds())).Replace(other + `
:root{color-scheme:light dark}
body{margin:0;background:#f6f1e4;color:#1b2620;font:1.0625rem/1.5 sans-serif}
#before{visibility:hidden;animation:unready-shown 0s UNSTYLED forwards}
.unready{max-height:0;overflow:hidden;visibility:hidden;background:#14201b;color:#f6f1e4;animation:unready-shown 0s PATIENCE forwards}
.unready-line{position:sticky;top:0;z-index:9;margin:0;text-align:center;box-shadow:0 3px #f2b544}
.unready a{color:#f7cd7d;display:inline-block;padding:.7rem 0}
.unready>div{max-width:42rem;margin:auto;padding:.4rem 1rem 1rem}
.unready h2{font-size:1.25rem;line-height:1.2;margin:1rem 0 .5rem}
.unready p,.unready ul{margin:0 0 .6rem}
.unready li{margin-bottom:.3rem}
.unready button{min-height:56px;padding:.6rem 1.4rem;margin:0 .5rem .6rem 0;font:inherit;font-weight:700;background:#f2b544;color:#14201b;border:0;border-radius:.35rem}
[data-waits=""]:not([data-unready]) .unready{display:none}
[data-waits=over] .unready,[data-unready] .unready{animation-delay:0s}
@media (scripting:none){.unready{animation-delay:0s}}
@media (prefers-color-scheme:dark){body{background:#14201b;color:#f6f1e4}}
@keyframes unready-shown{to{max-height:none;visibility:visible}}
`)
}

// waitScript leaves the notice out of what the browser lays out while it has most to do,
// and puts it back when the patience is over. Where this script does not run,
// the style alone shows the notice.
func waitScript(patience time.Duration) string {
	return fmt.Sprintf(`
{
  const { dataset } = document.documentElement;
  dataset.waits = "";
  setTimeout(() => {
    dataset.waits = "over";
  }, %d);
}
`, patience.Milliseconds())
}

// digestOf is a digest as a policy and the attribute integrity name it.
func digestOf(body []byte) string {
	sum := sha256.Sum256(body)
	return "sha256-" + base64.StdEncoding.EncodeToString(sum[:])
}
