// Package cohort fits one learning curve to many trainees together: each
// trainee's parameters are drawn from a population (partial pooling), so that a
// trainee with few attempts borrows from the others, and a trainee with many
// keeps their own.
//
// # Model
//
// The curve of trainee i is plateau + gain·h(attempt; shape), as in package
// models. Every parameter moves on a scale, identity or log:
//
//	scale(parameter) = common value + arm and covariate effects + u_i,
//
// with u_i normal over trainees, covariance full or diagonal, for the parameters
// that differ between trainees. The starting level may stand in for the gain.
// Two more quantities can be added: the log of the residual spread of each
// trainee (people differ in noise), and a restart: a shift after a break between
// sessions that fades, shift·exp(−fading·(attempts since the restart − 1)),
// added on the scale on which the noise is additive. Right-censored responses
// enter by their chance.
//
// Neighbouring residuals of a trainee can be alike: the whole residual, or a
// part of its variance, carries over from attempt to attempt with a correlation
// that falls as carryover^gap, and starts afresh at a break between sessions. A
// censored attempt then counts by its chance given the attempts before it and
// tells nothing about those after it; attempts that are missing count as a
// longer gap. Projections start from where the residuals left off and widen
// with the distance ahead.
//
// A noise that is added to the curve is normal on some scale, or Student's t on 4 degrees of freedom, of
// which single wild attempts move the curve little (Lange, Little and Taylor, 1989, Journal of the
// American Statistical Association 84, 881-896); there nothing is carried over.
//
// # Method
//
// Maximum likelihood of the marginal distribution. The integral over u_i is
// taken by the Laplace approximation with exact second derivatives at the mode
// (Tierney and Kadane, 1986, Journal of the American Statistical Association
// 81, 82-86), exact where the model is linear in u_i on the noise's additive
// scale, or by adaptive Gauss-Hermite quadrature (Pinheiro and Bates, 1995,
// Journal of Computational and Graphical Statistics 4, 12-35). The mode of
// each trainee is found by Newton steps; the gradient of the Laplace objective
// is exact by implicit differentiation, with third derivatives of the curve.
// The covariance is moved by the logarithms of the diagonal and the lower
// triangle of its Cholesky factor (Pinheiro and Bates, 1996, Statistics and
// Computing 6, 289-296). Standard errors come from the observed information;
// profile-likelihood intervals and two bootstraps are offered beside them.
// Residuals that carry over are whitened by a Kalman filter, exactly for exact
// responses. Where the curve is linear in everything that moves it, restricted
// maximum likelihood is offered.
//
// # Later
//
// A fit can be kept in a file and place other trainees by it and their own attempts, with
// nothing fitted: [Cohort.Save], [Load], [Cohort.With]; [Cohort.Unusual] says whose attempts it
// would not expect. [Cohort.Follow] takes attempts as they arrive.
//
// # Ladder
//
// Where the covariance asked for cannot be estimated, simpler ones are tried in
// a fixed order: full, full with a correlation at its bound of ±1 (where that
// lowers AIC), diagonal, fewer random effects, two-stage. The steps
// tried, how each ended, and the one used are part of the result.
//
// # Choices
//
// A correlation at ±1 stays a result where it lowers AIC. Wald intervals are the default,
// because they covered spreads better than profiles did. Restricted maximum likelihood is
// offered only where it is exact. What intervals, projections and checks do is in
// testdata/cohort/README.md.
//
// # Limits
//
// Maximum likelihood understates spreads between few trainees. Without
// carryover neighbouring attempts are taken as independent about the curve, and
// attempts to proficiency always take them so.
package cohort
