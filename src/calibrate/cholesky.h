/* cholesky: the root of a small positive matrix, and what it solves. Inline,
 * since the fit solves millions of systems of two or three unknowns, for each
 * of which a call of a library would cost more than the sums.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef CALIBRATE_CHOLESKY_H
#define CALIBRATE_CHOLESKY_H

#include <math.h>
#include <stdbool.h>

/* The lower half of a, n by n in rows of `width`, becomes its root, whose
 * product with itself turned over is a. False unless each pivot is above
 * `absolute` and above `relative` of its element of the diagonal. */
static inline bool cholesky_root(int n, int width, double a[][width],
                                 double absolute, double relative) {
    for (int k = 0; k < n; k++)
        for (int m = 0; m <= k; m++) {
            double sum = a[k][m];
            for (int j = 0; j < m; j++)
                sum -= a[k][j] * a[m][j];
            if (m == k && !(sum > absolute && sum > relative * a[k][k]))
                return false;
            a[k][m] = m == k ? sqrt(sum) : sum / a[m][m];
        }
    return true;
}

/* Solves a x = b in place of b by the root of a. */
static inline void cholesky_solve(int n, int width, double root[][width],
                                  double *b) {
    for (int k = 0; k < n; k++) {
        for (int m = 0; m < k; m++)
            b[k] -= root[k][m] * b[m];
        b[k] /= root[k][k];
    }
    for (int k = n - 1; k >= 0; k--) {
        for (int m = k + 1; m < n; m++)
            b[k] -= root[m][k] * b[m];
        b[k] /= root[k][k];
    }
}

#endif
