# map: what each step taper gains, by its length and its cut, as a share of the
# gain that is possible at all.
#
# Needs
#   title, subtitle   strings
#   best_label, recommended_label
#                     strings, for the legend
#   longest           [d] longest taper of the map
#   most_cut          [%] largest cut of the map
#   best_length, best_cut, recommended_length, recommended_cut
#                     [d], [%]; a length of 0 is no taper
#   has_best          1, or 0 if no taper gains anything
#   band_from_days, band_to_days, band_from_cut, band_to_cut
#                     [d], [%] what is published (Bosquet et al. 2007)
#   $map              rows: length [d], cut [%], share (1 = all that is
#                     possible); a blank line between lengths; cuts from 0 in
#                     steps of 5
#   $outline          rows: x [d], y [%], dx, dy: the border of the options
#                     within 5 % of the best; may be empty
#   $chance           rows: length [d], cut [%], chance to beat no taper [%]; a
#                     blank line between lengths; may be empty
#
# SPDX-License-Identifier: GPL-3.0-or-later

load scripts.'/common.gp'

half_cut = 2.5
low = NaN
known = sum [i = 1:|$map|] take(field($map[i], 3))
negative = known > 0 && low < -0.0005
top = known > 0 && high > 0.1 ? 10 * ceil(high * 10 - 1e-9) : 10
bottom_share = known > 0 && low < 0 ? 100 * low : 0
# An empty block is warned of too.
set print $border
print '-1e12 0 0 0'
do for [i = 1:|$outline|] { print $outline[i] }
set print
border_rows = sum [i = 1:|$outline|] (words($outline[i]) >= 4)

no_taper = (has_best && best_length < 1) || recommended_length < 1
x_low = no_taper ? -0.5 : 0.5
x_high = longest + 0.5
y_low = -half_cut
y_high = most_cut + half_cut
set xlabel 'taper length (days before the event)'
published = sprintf(narrow ? 'published: %g-%g %%, %g-%g d' : 'published: %g-%g %% for %g-%g days', band_from_cut, band_to_cut, band_from_days, band_to_days)
step = narrow ? (longest <= 7 ? 1 : longest <= 14 ? 2 : longest <= 28 ? 4 : 7 * ceil(longest / 42.0)) : longest <= 20 ? 1 : longest <= 45 ? 2 : 7 * ceil(longest / 140.0)

$frame << END_OF_FRAME
0 0
1 0
1 1
0 1
0 0
END_OF_FRAME

if (plain_text) {
    set lmargin at screen 0.10
    set rmargin at screen 0.965
    set tmargin at screen line(30)
    set bmargin at screen line(9)
    dummy = wide(0.06)
    set xrange [0:x_high]
    set yrange [100 * low:100 * high]
    set xtics 0, (longest <= 20 ? 1 : longest <= 45 ? 2 : step)
    set format y '%.4g'
    set label 3 'share of the possible gain (%), by the volume cut' at screen 0.02, line(32) left
    set label 4 fit(recommended_label, 95) at screen 0.02, line(3) left
    set label 5 fit(has_best ? best_label : 'no taper gains anything', 95) at screen 0.02, line(2) left
    set label 6 published.' (Bosquet 2007)' at screen 0.02, line(1) left
    set key at screen 0.5, line(5) center bottom horizontal maxrows 2
    lines_total = known == 0 ? 0 : most_cut < 25 ? 1 : most_cut < 50 ? 2 : most_cut <= 75 ? 3 : 4
    cut_of(k) = k == 1 ? (most_cut < 25 ? most_cut : 25) : k == 4 ? most_cut : 25 * k
    array counted[4]
    do for [k = 1:4] {
        counted[k] = k > lines_total || k > 1 && cut_of(k) <= cut_of(k - 1) || cut_of(k) > most_cut ? 0 : 1
    }
    plot 0 with lines linetype 0 notitle, \
         for [k = 1:lines_total] $map using (counted[k] && abs($2 - cut_of(k)) < 2.5 ? $1 : away):(counted[k] && abs($2 - cut_of(k)) < 2.5 ? 100 * $3 : 0) with points pointtype k title sprintf('cut %g %%', cut_of(k))
} else {
    set lmargin at screen narrow ? 0.14 : 0.09
    set rmargin at screen narrow ? 0.975 : 0.86
    set tmargin at screen narrow ? 1 - px(66) : 0.865
    set bmargin at screen narrow ? px(156) : 0.255
    set xrange [x_low:x_high]
    set yrange [y_low:y_high]
    set xtics 0, step
    set ytics 0, 10
    if (narrow) {
        set label 4 'volume cut (%)' at screen 0.028, 0.5 * (px(156) + 1 - px(66)) center rotate by 90 font f_small
        set xlabel font f_small offset 0, 0.4
    } else {
        set ylabel 'volume cut (%)' offset 0.5, 0
    }
    unset grid
    # one hue, in even steps of lightness (L* 100, 81, 62, 43, 24), each 10 %
    set palette maxcolors (top <= 100 ? top / 10 : 10) defined (0 '#FFFFFF', 0.25 '#AFCDE4', 0.5 '#599CCF', 0.75 '#256A9E', 1 '#0B3B61')
    set cbrange [0:top]
    if (narrow) {
        set colorbox horizontal user origin screen 0.14, 1 - px(30) size screen 0.835, px(10)
        set label 5 'share of the possible gain (%)' at screen 0.5575, 1 - px(10) center font f_small
    } else {
        set colorbox user origin screen 0.885, 0.255 size screen 0.022, 0.61
        set cblabel 'share of the possible gain (%)' offset 0.5, 0
    }
    set cbtics font f_small
    unset key

    frame_x1 = band_from_days - 0.5
    frame_x2 = band_to_days + 0.5
    frame_x(u) = u > 0 ? frame_x2 : frame_x1
    frame_y(u) = u > 0 ? band_to_cut : band_from_cut
    has_frame = frame_x1 < x_high && band_from_cut < y_high
    if (has_frame) {
        set label 3 'published' at first (frame_x1 + frame_x2) / 2, first band_from_cut center offset 0, -0.75 boxed front font f_small
    }
    # Cells overlap a little to the right and up, so that no seams show.
    overlap = 0.08
    aside(x, share) = share < -0.0005 ? x : away
    show_best = has_best && best_length == best_length
    show_recommended = recommended_length == recommended_length
    # The legend, by hand: gnuplot's own makes all columns as wide as the widest.
    # In a narrow picture each entry has a line of its own.
    legend_x = narrow ? 0.06 : 0.05
    legend_1 = narrow ? px(88) : 0.112
    legend_2 = narrow ? px(73) : 0.072
    legend_3 = narrow ? px(58) : 0.032
    within_x = narrow ? legend_x : 0.5
    within_y = narrow ? px(43) : legend_3
    helps_x = narrow ? legend_x : 0.5
    helps_y = narrow ? px(28) : legend_2
    worse_x = narrow ? legend_x : 0.76
    worse_y = narrow ? px(13) : legend_3
    gap = narrow ? 0.03 : 0.02
    middle = narrow ? 2 : 1.5
    dash = narrow ? 0.012 : 0.008
    half = narrow ? 0.042 : 0.018
    unmarked = narrow ? ', not marked' : ', no step, so not marked'
    legend_room = narrow ? 41 : columns * 0.9
    if (!show_recommended) {
        set label 11 fit(recommended_label.unmarked, legend_room) at screen legend_x, legend_1 left offset 2.6, -0.1 font f_small
    } else {
        set label 11 fit(recommended_label, legend_room) at screen legend_x, legend_1 left offset 2.6, -0.1 font f_small point pointtype 6 pointsize 2 * p linewidth 3 linecolor rgb c_black
    }
    if (show_best) {
        set label 12 fit(best_label, legend_room) at screen legend_x, legend_2 left offset 2.6, -0.1 font f_small point pointtype 2 pointsize 1.3 * p linewidth 3 linecolor rgb c_black
    } else {
        set label 12 (has_best ? fit(best_label.unmarked, legend_room) : 'no taper gains anything') at screen legend_x, legend_2 left offset 2.6, 0 font f_small
    }
    if (has_frame) {
        set arrow 13 from screen legend_x - half, screen legend_3 to screen legend_x + half, screen legend_3 nohead linewidth 2.4 linecolor rgb c_vermillion dashtype (8, 4)
        set label 13 published.' (Bosquet 2007)' at screen legend_x, legend_3 left offset 2.6, 0 font f_small
    }
    if (border_rows > 0) {
        set arrow 14 from screen within_x - half, screen within_y to screen within_x + half, screen within_y nohead linewidth 3.5 linecolor rgb c_black
        set label 14 'within 5 % of the best' at screen within_x, within_y left offset 2.6, 0 font f_small
    }
    if (negative) {
        set object 15 rectangle from screen worse_x - half, screen worse_y - 0.012 to screen worse_x + half, screen worse_y + 0.012 fillcolor rgb c_vermillion fillstyle solid 0.18 border linecolor rgb c_vermillion
        set label 15 'worse than no taper' at screen worse_x, worse_y left offset 2.6, 0 font f_small
    }
    # Lines of equal chance to beat no taper, the thicker the surer.
    rows = sum [i = 1:|$chance|] (words($chance[i]) >= 3)
    has_chance = rows > 0 && longest > 1 && most_cut > 5
    contours = 0
    set print $lines
    print '-1e12 0 0'
    set print
    if (has_chance) {
        set contour base
        unset surface
        set cntrparam levels discrete 50, 75, 90
        set table $lines
        splot $chance using 1:2:3 with lines
        unset table
        unset contour
        set surface
        contours = sum [i = 1:|$lines|] (words($lines[i]) == 3)
    }
    chance_of(k) = k == 1 ? 50 : k == 2 ? 75 : 90
    do for [k = 1:3 * (contours > 0)] {
        set arrow 20 + k from screen helps_x + (k - middle) * gap - dash, screen helps_y to screen helps_x + (k - middle) * gap + dash, screen helps_y nohead linewidth 0.8 * k linecolor rgb c_black dashtype (3, 3)
    }
    if (contours > 0) {
        set label 16 'helps in 50, 75, 90 of 100 likely models' at screen helps_x, helps_y left offset (narrow ? 2.6 : 4.7), 0 font f_small
    }
    plot NaN notitle, \
         for [k = 1:known > 0] $map using 1:2:($1 - 0.5):($1 + 0.5 + overlap):($2 - half_cut):($2 + half_cut + 4 * overlap):(known && $3 >= 0 ? 100 * $3 : 0) with boxxyerror linecolor palette fillstyle solid 1 noborder notitle, \
         for [k = 1:negative && !narrow] $map using (aside($1, $3)):2:(aside($1 - 0.5, $3)):(aside($1 + 0.5, $3)):($2 - half_cut):($2 + half_cut) with boxxyerror fillcolor rgb c_vermillion fillstyle solid 0.18 border linecolor rgb c_vermillion notitle, \
         for [k = 1:negative && narrow > 0] $map using (aside($1, $3)):2:(aside($1 - 0.5, $3)):(aside($1 + 0.5, $3)):($2 - half_cut):($2 + half_cut) with boxxyerror fillcolor rgb c_vermillion fillstyle solid 0.18 noborder notitle, \
         for [k = 1:negative && narrow > 0] $map using (aside($1, $3)):2:(aside($1 - 0.5, $3)):(aside($1 + 0.5, $3)):($2 - half_cut):($2 + half_cut) with boxxyerror linecolor rgb c_vermillion fillstyle empty border notitle, \
         for [k = 1:3 * (contours > 0)] $lines using ($3 == chance_of(k) ? $1 : NaN):2 with lines linewidth 0.8 * k linecolor rgb c_black dashtype (3, 3) notitle, \
         for [k = 1:border_rows > 0] $border using 1:2:3:4 with vectors nohead linewidth 3.5 linecolor rgb c_black notitle, \
         for [k = 1:has_frame] $frame using (frame_x($1)):(frame_y($2)) with lines linewidth 4 linecolor rgb '#FFFFFF' notitle, \
         for [k = 1:has_frame] $frame using (frame_x($1)):(frame_y($2)) with lines linewidth 2.2 linecolor rgb c_vermillion dashtype (8, 4) notitle, \
         for [k = 1:show_recommended] '+' using (recommended_length):(recommended_cut) every ::0::0 with points pointtype 7 pointsize 3.3 * p linecolor rgb '#FFFFFF' notitle, \
         for [k = 1:show_best] '+' using (best_length):(best_cut) every ::0::0 with points pointtype 7 pointsize 2 * p linecolor rgb '#FFFFFF' notitle, \
         for [k = 1:show_recommended] '+' using (recommended_length):(recommended_cut) every ::0::0 with points pointtype 6 pointsize 2.6 * p linewidth 3 linecolor rgb c_black notitle, \
         for [k = 1:show_best] '+' using (best_length):(best_cut) every ::0::0 with points pointtype 2 pointsize 1.3 * p linewidth 3 linecolor rgb c_black notitle
}
