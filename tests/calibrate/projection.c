/* projection: Lanczos1-3, Misra1a and Chwirut2, responses of no kind here.
 *
 * Certified figures are of NIST's Statistical Reference Datasets (P, public
 * domain).
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "athlete.h"
#include "test.h"

#include "calibrate/projection.h"

#include <math.h>

/* NIST StRD, Lanczos1 to 3 (P): y = b1 e^(-b2 x) + b3 e^(-b4 x) + b5 e^(-b6 x),
 * x = 0, .05, ..., 1.15; no level. Time constants are 1/b2, 1/b4, 1/b6. */
static const double lanczos[3][24] = {
    {2.5134,          2.044333373291,  1.668404436564,   1.366418021208,
     1.123232487372,  0.9268897180037, 0.7679338563728,  0.6388775523106,
     0.5337835317402, 0.4479363617347, 0.377584788435,   0.3197393199326,
     0.2720130773746, 0.2324965529032, 0.1996589546065,  0.1722704126914,
     0.1493405660168, 0.1300700206922, 0.1138119324644,  0.1000415587559,
     0.0883320908454, 0.0783354401935, 0.06976693743449, 0.06239312536719},
    {2.5134,   2.04433,  1.6684,    1.36642,   1.12323,   0.92689,
     0.767934, 0.638878, 0.533784,  0.447936,  0.377585,  0.319739,
     0.272013, 0.232497, 0.199659,  0.17227,   0.149341,  0.13007,
     0.113812, 0.100042, 0.0883321, 0.0783354, 0.0697669, 0.0623931},
    {2.5134, 2.0443, 1.6684, 1.3664, 1.1232, 0.9269, 0.7679, 0.6389,
     0.5338, 0.4479, 0.3776, 0.3197, 0.272,  0.2325, 0.1997, 0.1723,
     0.1493, 0.1301, 0.1138, 0.1,    0.0883, 0.0783, 0.0698, 0.0624},
};

typedef struct {
    double b[6], sd[6], rss;
} Certified;

static const Certified lanczos_certified[3] = {
    {{9.5100000027E-02, 1.0000000001E+00, 8.6070000013E-01, 3.0000000002E+00,
      1.5575999998E+00, 5.0000000001E+00},
     {5.3347304234E-11, 2.7473038179E-10, 1.3576062225E-10, 3.3308253069E-10,
      1.8815731448E-10, 1.1057500538E-10},
     1.4307867721E-25},
    {{9.6251029939E-02, 1.0057332849E+00, 8.6424689056E-01, 3.0078283915E+00,
      1.5529016879E+00, 5.0028798100E+00},
     {6.6770575477E-04, 3.3989646176E-03, 1.7185846685E-03, 4.1707005856E-03,
      2.3744381417E-03, 1.3958787284E-03},
     2.2299428125E-11},
    {{8.6816414977E-02, 9.5498101505E-01, 8.4400777463E-01, 2.9515951832E+00,
      1.5825685901E+00, 4.9863565084E+00},
     {1.7197908859E-02, 9.7041624475E-02, 4.1488663282E-02, 1.0766312506E-01,
      5.8371576281E-02, 3.4436403035E-02},
     1.6117193594E-08},
};

static void exponentials(void *context, const double *shape,
                         double *const *column, double *const *slope) {
    (void)context;
    for (int k = 0; k < 3; k++)
        for (size_t i = 0; i < 24; i++) {
            double u = .05 * (double)i / shape[k];
            column[k][i] = exp(-u);
            if (slope)
                slope[k][i] = u * exp(-u);
        }
}

/* `digits`: largest relative error of parameters; of their standard errors. */
static void check_lanczos(int set, double digits, double errors) {
    static double ones[24];
    const Certified *c = &lanczos_certified[set];
    Separable s = {.rows = 24,
                   .value = lanczos[set],
                   .weight = ones,
                   .gains = 3,
                   .shapes = 3,
                   .least = {.05, .05, .05},
                   .most = {5, 5, 5},
                   .under = {0, 0, 1},
                   .ratio = 1.05,
                   .belongs = {0, 1, 2},
                   .columns = exponentials};
    SeparableFit fit;
    double sigma;
    for (int i = 0; i < 24; i++)
        ones[i] = 1;
    projection_run(&s, true, &fit);
    sigma = sqrt(fit.rss / 18);
    ASSERT_NEAR(fit.rss / c->rss, 1, 2 * errors);
    for (int k = 0; k < 3; k++) {
        double rate = 1 / fit.shape[k];
        ASSERT_NEAR(fit.gain[k] / c->b[2 * k], 1, digits);
        ASSERT_NEAR(rate / c->b[2 * k + 1], 1, digits);
        ASSERT_NEAR(sigma * sqrt(fit.covariance[1 + k][1 + k]) / c->sd[2 * k],
                    1, errors);
        ASSERT_NEAR(sigma * sqrt(fit.covariance[4 + k][4 + k]) * rate * rate /
                        c->sd[2 * k + 1],
                    1, errors);
    }
}

/* Residuals of Lanczos1 are some 9e-14 of readings up to 2.5, which double
 * precision rounds by 2e-16 each: sigma, and with it every standard error, is
 * known to about a part in 400 and no better, and the parameters to some 1e-10
 * (that rounding times the certified SD over sigma is 1e-12; the certified
 * values themselves were printed to 1e-10). Asked: 1e-9 and 1 %. */
static void projection_lanczos1(void) {
    test_evidence("NIST StRD Lanczos1 (certified)",
                  "the separable solver, three exponentials");
    check_lanczos(0, 1e-9, .01);
}

static void projection_lanczos2(void) {
    test_evidence("NIST StRD Lanczos2 (certified)",
                  "the separable solver, three exponentials");
    check_lanczos(1, 1e-8, 1e-6);
}

static void projection_lanczos3(void) {
    test_evidence("NIST StRD Lanczos3 (certified)",
                  "the separable solver, three exponentials");
    check_lanczos(2, 1e-8, 1e-6);
}

/* Misra1a without a level, as it stands: b1 (1 - e^(-b2 x)). */
static void saturation(void *context, const double *shape,
                       double *const *column, double *const *slope) {
    (void)context;
    for (size_t i = 0; i < 14; i++) {
        column[0][i] = -expm1(-misra_x[i] * shape[0]);
        if (slope)
            slope[0][i] = misra_x[i] * shape[0] * exp(-misra_x[i] * shape[0]);
    }
}

static void projection_misra1a(void) {
    test_evidence("NIST StRD Misra1a (certified)", "the separable solver");
    static const double ones[14] = {1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1};
    Separable s = {.rows = 14,
                   .value = misra_y,
                   .weight = ones,
                   .gains = 1,
                   .shapes = 1,
                   .least = {1e-5},
                   .most = {1},
                   .ratio = 1.1,
                   .columns = saturation};
    SeparableFit fit;
    double sigma;
    projection_run(&s, true, &fit);
    sigma = sqrt(fit.rss / 12);
    ASSERT_NEAR(fit.rss / 1.2455138894E-01, 1, 1e-9);
    ASSERT_NEAR(fit.gain[0] / 2.3894212918E+02, 1, 1e-9);
    ASSERT_NEAR(fit.shape[0] / 5.5015643181E-04, 1, 1e-9);
    ASSERT_NEAR(sigma * sqrt(fit.covariance[1][1]) / 2.7070075241E+00, 1, 1e-8);
    ASSERT_NEAR(sigma * sqrt(fit.covariance[2][2]) / 7.2668688436E-06, 1, 1e-8);
}

/* NIST StRD, Chwirut2 (P): y = e^(-b1 x) / (b2 + b3 x), which is
 * 1/b2 x e^(-b1 x) / (1 + c x) with c = b3/b2: one gain, two shapes. */
static const double chwirut_y[54] = {
    92.9,  57.1,  31.05,   11.5875, 8.025, 63.6,  21.4,  14.25, 8.475,
    63.8,  26.8,  16.4625, 7.125,   67.3,  41.0,  21.15, 8.175, 81.5,
    13.12, 59.9,  14.62,   32.9,    5.44,  12.56, 5.44,  32.0,  13.95,
    75.8,  20.0,  10.42,   59.5,    21.67, 8.55,  62.0,  20.2,  7.76,
    3.75,  11.81, 54.7,    23.7,    11.55, 61.3,  17.7,  8.74,  59.2,
    16.3,  8.62,  81.0,    4.87,    14.62, 81.7,  17.17, 81.3,  28.9};

static const double chwirut_x[54] = {
    0.5,  1.0,  1.75,  3.75, 5.75, 0.875, 2.25, 3.25, 5.25, 0.75, 1.75,
    2.75, 4.75, 0.625, 1.25, 2.25, 4.25,  0.5,  3.0,  0.75, 3.0,  1.5,
    6.0,  3.0,  6.0,   1.5,  3.0,  0.5,   2.0,  4.0,  0.75, 2.0,  5.0,
    0.75, 2.25, 3.75,  5.75, 3.0,  0.75,  2.5,  4.0,  0.75, 2.5,  4.0,
    0.75, 2.5,  4.0,   0.5,  6.0,  3.0,   0.5,  2.75, 0.5,  1.75};

static void quotient(void *context, const double *shape, double *const *column,
                     double *const *slope) {
    (void)context;
    for (size_t i = 0; i < 54; i++) {
        double x = chwirut_x[i], below = 1 + shape[1] * x;
        double value = exp(-shape[0] * x) / below;
        column[0][i] = value;
        if (!slope)
            continue;
        slope[0][i] = -shape[0] * x * value;
        slope[1][i] = -shape[1] * x / below * value;
    }
}

static void projection_chwirut2(void) {
    test_evidence("NIST StRD Chwirut2 (certified)",
                  "the separable solver on a quotient");
    static double ones[54];
    Separable s = {.rows = 54,
                   .value = chwirut_y,
                   .weight = ones,
                   .gains = 1,
                   .shapes = 2,
                   .least = {.001, .001},
                   .most = {10, 10},
                   .under = {0, 1},
                   .ratio = 1.1,
                   .columns = quotient};
    SeparableFit fit;
    double sigma, g, c, variance;
    for (int i = 0; i < 54; i++)
        ones[i] = 1;
    projection_run(&s, true, &fit);
    sigma = sqrt(fit.rss / 51);
    g = fit.gain[0];
    c = fit.shape[1];
    ASSERT_NEAR(fit.rss / 5.1304802941E+02, 1, 1e-9);
    ASSERT_NEAR(fit.shape[0] / 1.6657666537E-01, 1, 1e-8);
    ASSERT_NEAR(1 / g / 5.1653291286E-03, 1, 1e-8);
    ASSERT_NEAR(c / g / 1.2150007096E-02, 1, 1e-8);
    ASSERT_NEAR(sigma * sqrt(fit.covariance[2][2]) / 3.8303286810E-02, 1, 1e-6);
    ASSERT_NEAR(sigma * sqrt(fit.covariance[1][1]) / (g * g) / 6.6621605126E-04,
                1, 1e-6);
    /* of c/g, by its gradient */
    variance = fit.covariance[3][3] / (g * g) -
               2 * c * fit.covariance[1][3] / (g * g * g) +
               c * c * fit.covariance[1][1] / (g * g * g * g);
    ASSERT_NEAR(sigma * sqrt(variance) / 1.5304234767E-03, 1, 1e-6);
}

/* Gains of any sign against those from 0: y = 2.385 - 1.7 e^(-x/3.1) has no
 * answer with a gain from 0 but the level. */
static void one_exponential(void *context, const double *shape,
                            double *const *column, double *const *slope) {
    (void)context;
    for (size_t i = 0; i < 11; i++) {
        double u = (double)i / shape[0];
        column[0][i] = exp(-u);
        if (slope)
            slope[0][i] = u * exp(-u);
    }
}

static void projection_any_sign(void) {
    double value[11], weight[11];
    Separable s = {.rows = 11,
                   .value = value,
                   .weight = weight,
                   .level = true,
                   .gains = 1,
                   .shapes = 1,
                   .any_sign = {true},
                   .least = {.1},
                   .most = {100},
                   .ratio = 1.1,
                   .columns = one_exponential};
    SeparableFit fit;
    for (int i = 0; i < 11; i++) {
        value[i] = 2.385 - 1.7 * exp(-i / 3.1);
        weight[i] = 1 + i % 3;
    }
    projection_run(&s, true, &fit);
    ASSERT_NEAR(fit.level, 2.385, 1e-11);
    ASSERT_NEAR(fit.gain[0], -1.7, 1e-11);
    ASSERT_NEAR(fit.shape[0], 3.1, 1e-10);
    CU_ASSERT_FALSE(fit.on_bound[1]);
    s.any_sign[0] = false;
    projection_run(&s, true, &fit);
    CU_ASSERT(fit.on_bound[1]);
    CU_ASSERT_EQUAL(fit.gain[0], 0);
    CU_ASSERT(isnan(fit.covariance[1][1]) && isnan(fit.covariance[2][2]));
    CU_ASSERT(isinf(projection_rss_at(&s, (const double[]){100.1})));
}

static const TestCase cases[] = {{"projection_lanczos1", projection_lanczos1},
                                 {"projection_lanczos2", projection_lanczos2},
                                 {"projection_lanczos3", projection_lanczos3},
                                 {"projection_misra1a", projection_misra1a},
                                 {"projection_chwirut2", projection_chwirut2},
                                 {"projection_any_sign", projection_any_sign},
                                 {NULL, NULL}};

const TestSuite suite_calibrate_projection = {"calibrate", cases};
