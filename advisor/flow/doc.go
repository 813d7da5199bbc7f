// Package flow predicts how long a shot takes from the grind, the dose and the
// yield, and learns it from the shots of one coffee on one grinder.
//
// # Model
//
//	log t = level + b·g + c·log(dose/ref) + d·log(yield/ref) + noise
//
//	t      s, pump on to the end of the pour
//	g      effective grind in steps of the dial, + is finer:
//	       g(n) = (1-φ)·set(n) + φ·g(n-1), φ the share of old grounds
//	b      what one step is worth, in log time; always positive
//	c, d   exponents of dose and yield
//	noise  sd σ, with an outlier now and then
//
// Flow through a packed bed makes time a product of powers (Darcy's law), noise
// is proportional to time (two published campaigns find 6 %: Smrke 2024,
// Waszkiewicz 2025), and a window of ±2 s at 28 s is just ±7 %. The level walks
// a little from shot to shot and jumps overnight.
//
// # Inference
//
// What is not linear and Gaussian, b and φ, lies on a grid; in each cell a
// Kalman filter of three states (level, c, d) is exact. Each shot splits each
// cell into three branches: it is clean, it is an outlier, or it is clean and the
// level has changed before it, which nobody told (a Gaussian-sum filter, as Schick
// and Mitter 1994 for contaminated noise). So a shot can be judged again by those
// that come later: a fast one is an accident, two are a change. A bed that is known
// to have channelled is likelier an outlier than others. Nothing is sampled and nothing is tuned while running.
//
// The step, not the dial unit, carries the prior of b: dials run 0 to 3, 0 to
// 10 or 1 to 100, but people mark a dial in steps they can use, worth something
// between 0.3 and 10 s.
package flow
