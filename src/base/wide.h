/* wide: functions compiled for wider registers too, chosen when the program
 * starts. Nothing is contracted to fused operations (-std=c11), so the results
 * are the same to the last bit on every processor. A program that is not
 * optimised, or is watched, has one of each.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef BASE_WIDE_H
#define BASE_WIDE_H

#include <stdint.h> /* says __GLIBC__, whose loader chooses among clones */

/* WIDE: before such a function. INSIDE: before the static functions it calls in
 * its loops, which must become part of it. */
#if defined(__x86_64__) && defined(__GLIBC__) && defined(__GNUC__) &&          \
    !defined(__clang__) && defined(__OPTIMIZE__) &&                            \
    !defined(__SANITIZE_ADDRESS__) && !defined(__SANITIZE_THREAD__)
#define WIDE __attribute__((target_clones("avx512f", "avx2", "default")))
#define INSIDE static inline __attribute__((always_inline))
#else
#define WIDE
#define INSIDE static inline
#endif

#endif
