/* printed: see printed.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "printed.h"

#include <stdio.h>

char *printed(void (*print)(FILE *)) {
    char *text = NULL;
    size_t length = 0;
    FILE *to = open_memstream(&text, &length);
    print(to);
    fclose(to);
    return text;
}
