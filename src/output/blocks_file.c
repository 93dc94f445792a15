/* blocks_file: see blocks_file.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "output/blocks_file.h"

#include <math.h>

Date blocks_file_monday(Date today) {
    return today + 7 - date_weekday(today);
}

static double volume_at(const BlockPlan *p, int steps) {
    return 100 * pow(1 + p->rise / 100, steps);
}

static int least(int a, int b) {
    return a < b ? a : b;
}

static void write_block(const BlockPlan *p, int week, int weeks, double volume,
                        FILE *to) {
    char day[DATE_TEXT];
    date_write(day, p->monday + 7 * week);
    if (volume < 0)
        fprintf(to, "%s,%d,deload,%d,,\n", day, weeks, DELOAD_VOLUME);
    else
        fprintf(to, "%s,%d,build,%.0f,%g,\n", day, weeks, volume, p->rise);
}

void blocks_file_write(const void *plan, FILE *to) {
    const BlockPlan *p = plan;
    int week = 0;
    fputs("start,weeks,block,volume,rise,athlete\n", to);
    for (int round = 0; week < p->weeks; round++) {
        int build = least(p->build, p->weeks - week);
        int deload = least(p->deload, p->weeks - week - build);
        write_block(p, week, build, volume_at(p, round), to);
        if (deload > 0)
            write_block(p, week + build, deload, -1, to);
        week += build + deload;
    }
}

double blocks_file_highest(const BlockPlan *p) {
    double highest = 0;
    for (int round = 0, week = 0; week < p->weeks; round++) {
        int build = least(p->build, p->weeks - week);
        highest = fmax(highest, volume_at(p, round + build - 1));
        week += p->build + p->deload;
    }
    return highest;
}
