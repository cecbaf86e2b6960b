// Package chance draws numbers by chance that come again with the same seeds: on
// every machine, with any number of processors, and in later versions.
//
// The generator is PCG (M. E. O'Neill, "PCG: A Family of Simple Fast
// Space-Efficient Statistically Good Algorithms for Random Number Generation",
// Harvey Mudd College 2014, report HMC-CS-2014-0905), as math/rand/v2 has it. Its
// two words of state are a seed and the number of a stream within it.
package chance
