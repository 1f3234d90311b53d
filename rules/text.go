package rules

import "larderlamp/rules/prose"

// Text is something to be read, in no language yet.
type Text = prose.Text
