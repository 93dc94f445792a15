/* method: what the figures of the answers mean, how they are reckoned and what
 * stands behind them, for `help notes`.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef OUTPUT_METHOD_H
#define OUTPUT_METHOD_H

#include "present/document.h"

void method_notes(Document *doc);

#endif
