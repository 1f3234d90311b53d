// Package keeping turns what is known of temperatures into what they did to a
// jar: how warm and how cold it has been at the worst, for how many hours above
// the limits, and how much faster than the calendar it has aged.
//
// # Promises
//
//   - What is not known is a range, and every result is the range of all results
//     still possible. Knowing less never makes a range smaller.
//   - Hotter never gives a smaller age, fewer hours above a limit or a lower
//     peak.
//   - The results feed the rules as bands. Aging is a figure of quality, for
//     planning; no safety rule depends on it.
//   - A time can be cut anywhere: the parts add up to the whole.
//
// On a trip, time is counted by the hour: the air outside, how a vehicle in the sun
// heats it, a jar that follows the air around it, and a cooler as an energy balance
// of ice. Each has a lower and an upper bound; the worse one decides.
//
// A day is taken as one wave between its lowest and its highest temperature, a
// year as one wave between the average day of winter and that of summer. Both
// are derived, not measured; readings are better.
package keeping
