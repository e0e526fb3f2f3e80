// Package village fills a file with invented households, from one to as many as the
// disk holds, the same ones for the same seed. A few dozen lives of a batch are
// spoken once to the real conversation; every batch of the village is one of them,
// moved to another day. So the rows are those that the bot itself writes, and the
// time goes into the store alone.
//
// life.go makes what a household says over the life of a batch, record.go has the
// bot take it down, settle.go copies it to as many households as are wanted, which
// speak in turn, multiply.go those to as many again.
package village
