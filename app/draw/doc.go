// Package draw makes the pictures of the guide as SVG markup.
//
// [Picture] is one jar held up to a lamp in a dark cellar. It shows what has been
// reported of it and nothing else: a part that nobody has looked at is a ghost
// with a dotted edge, a part that was found sound is solid and clear, and every
// oddity has its own drawing. [Mark] is the sign of a verdict.
//
// The markup is safe under a strict content security policy: no style
// attribute, script or outside reference, and no text but the fixed words of
// the vocabulary. The same jar always gives the same bytes.
//
// A page may style these classes: svg.jar; .niche, the wall behind it;
// .engraving, the hatching that tells changes of color apart in gray, for a
// page to deepen in print; .zone, a touch area, which needs a focus ring;
// svg.mark.
package draw
