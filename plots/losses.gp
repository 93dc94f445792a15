# losses: what each athlete of a squad loses under each plan against their own
# best, as a share of the gain that is possible for them: a number in every cell,
# shaded by it; hatched where the plan is worse than no taper; framed where it is
# their plan.
#
# Needs
#   title, subtitle   strings
#   rows_count        athletes
#   columns_count     plans
#   common_count      the first so many are the squad's
#   row_name_1 ..     strings
#   column_name_1 ..  strings
#   $cells            rows: column, row (from 1), share lost (NaN: not within
#                     their limits), share gained (below 0: worse than no taper),
#                     1 if it is their plan
#
# SPDX-License-Identifier: GPL-3.0-or-later

load scripts.'/common.gp'

rows_total = int(rows_count)
columns_total = int(columns_count)
# A picture's height holds so many rows of readable numbers.
crowded = rows_total > 22 || columns_total > 12
cell_font = crowded ? sprintf(',%.1f', 0.63 * f_base) : f_small
lost(row) = field(row, 3)
known(v) = v == v
shown_loss(v) = known(v) && v >= 9.995 ? '>999' : known(v) ? sprintf('%.0f', 100 * v + 1e-9) : '-'

set lmargin at screen 0.15
set rmargin at screen 0.975
set bmargin at screen (plain_text ? line(5) : 0.13)
set xrange [0.5:columns_total + 0.5]
set yrange [rows_total + 0.5:0.5]
unset key
unset grid
unset xtics
unset ytics
unset border
unset colorbox
do for [i = 1:rows_total] {
    if (!plain_text || rows_total <= 20) {
        set label 100 + i fit(value('row_name_'.i), plain_text ? 13 : 18) at screen 0.143, first i right font cell_font
    }
}
longest_name = 0
do for [k = 1:columns_total] {
    longest_name = strlen(value('column_name_'.k)) > longest_name ? strlen(value('column_name_'.k)) : longest_name
}
level = plain_text || (longest_name + 2) * columns_total <= 0.8 * columns
set tmargin at screen (plain_text ? line(26) : level ? 0.785 : 0.73)
header_room = plain_text ? int(80.0 / columns_total) - 1 : columns * 0.2
do for [k = 1:columns_total] {
    if (plain_text) {
        set label 1000 + k fit(value('column_name_'.k), header_room) at first k, screen line(27) center
    } else {
        if (level) {
            set label 1000 + k fit(value('column_name_'.k), header_room) at first k, screen 0.81 center font cell_font
        } else {
            set label 1000 + k fit(value('column_name_'.k), header_room) at first k, screen 0.742 left rotate by 30 font cell_font
        }
    }
}
own_total = columns_total - common_count
if (plain_text) {
    set label 3 'lost, % of the possible gain; [n]: assigned taper; !: worse than no taper' at screen 0.02, line(2) left
    set label 5 (own_total > 0 ? sprintf('the first %d column%s: common tapers; then the best of each athlete', common_count, common_count == 1 ? '' : 's') : '') at screen 0.02, line(1) left
    mark(v, g, f) = f > 0 ? '['.shown_loss(v).']' : shown_loss(v).(known(g) && g < -0.0005 ? '!' : '')
    plot $cells using 1:2:(mark($3, $4, $5)) with labels notitle
} else {
    set palette defined (0 '#FFFFFF', 0.5 '#ADCCE4', 1 '#5599CE')
    set cbrange [0:1]
    scaled(v) = v > 0.5 ? 1 : v / 0.5
    worse = sum [i = 1:|$cells|] (known(field($cells[i], 4)) && field($cells[i], 4) < -0.0005)
    framed = sum [i = 1:|$cells|] (field($cells[i], 5) > 0)
    low = NaN
    finite = sum [i = 1:|$cells|] take(lost($cells[i]))
    set label 3 'gain lost against the athlete''s own best (%); darker: more lost' at screen left_edge, 0.085 left font f_small
    set object 4 rectangle from screen 0.024, 0.028 to screen 0.056, 0.056 fillstyle empty border linecolor rgb c_black linewidth 3.5
    set label 4 'assigned taper' at screen 0.066, 0.042 left font f_small
    if (worse) {
        set object 5 rectangle from screen 0.274, 0.028 to screen 0.306, 0.056 fillcolor rgb c_vermillion fillstyle pattern 4 border linecolor rgb c_vermillion
        set label 5 'worse than no taper' at screen 0.316, 0.042 left font f_small
    }
    if (own_total > 0) {
        set arrow 6 from first common_count + 0.5, graph 0 to first common_count + 0.5, graph 1.0 nohead front linewidth 2.5 linecolor rgb c_grey dashtype (6, 4)
        set label 6 'left of the dashes: common tapers; right: athletes'' own best' at screen 0.535, 0.042 left font f_small
    }
    plot NaN notitle, \
         for [j = 1:finite > 0] $cells using 1:2:($1 - 0.5):($1 + 0.5):($2 - 0.5):($2 + 0.5):(known($3) ? scaled($3) : 0) with boxxyerror linecolor palette fillstyle solid 1 noborder notitle, \
         $cells using 1:2:($1 - 0.5):($1 + 0.5):($2 - 0.5):($2 + 0.5) with boxxyerror linecolor rgb c_rule linewidth 1 fillstyle empty border notitle, \
         for [j = 1:worse > 0] $cells using ($4 < -0.0005 ? $1 : away):2:($4 < -0.0005 ? $1 - 0.5 : away):($4 < -0.0005 ? $1 + 0.5 : away):($2 - 0.5):($2 + 0.5) with boxxyerror fillcolor rgb c_vermillion fillstyle pattern 4 noborder notitle, \
         for [j = 1:framed > 0] $cells using ($5 > 0 ? $1 : away):2:($5 > 0 ? $1 - 0.48 : away):($5 > 0 ? $1 + 0.48 : away):($2 - 0.46):($2 + 0.46) with boxxyerror linecolor rgb c_black linewidth 3.5 fillstyle empty border notitle, \
         $cells using 1:2:(shown_loss($3)) with labels font cell_font boxed notitle
}
