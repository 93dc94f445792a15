# fan: readiness under several tapers, a panel each with the likely range, all
# on one scale; the first option stands in every panel for comparison.
#
# Needs
#   title, subtitle   strings
#   readiness_label   string, the vertical axis with its unit
#   options_count     1 to 8
#   option_name_1 ..  strings, as many
#   option_words_1 .. strings: readiness at the event
#   event_from, event_to
#                     [d] first and last day of the event, from its first day
#   $fan              rows: day from the event's first day [d], then of each
#                     option readiness, low and high; low and high NaN: no range
#
# SPDX-License-Identifier: GPL-3.0-or-later

load scripts.'/common.gp'

option_total = options_count > 8 ? 8 : int(options_count)
array known[8]
array banded[8]
low = NaN
do for [k = 1:option_total] {
    known[k] = sum [i = 1:|$fan|] take(field($fan[i], 3 * k - 1))
    banded[k] = sum [i = 1:|$fan|] take(field($fan[i], 3 * k)) * take(field($fan[i], 3 * k + 1))
}
dummy = wide(0.05)
y_low = low
y_high = high
low = event_from
high = event_to
dummy = sum [i = 1:|$fan|] take(field($fan[i], 1))
x_low = low - 0.5
x_high = high + 0.5
span = x_high - x_low

across = option_total <= 3 ? option_total : option_total == 4 ? 2 : option_total <= 6 ? 3 : 4
down = int((option_total + across - 1) / across)
left = plain_text ? 0.10 : 0.09
right = 0.985
top = plain_text ? line(31) : 0.825
bottom = plain_text ? line(4) : 0.13
gap_x = 0.018
gap_y = plain_text ? 0.1 : 0.1
panel_width = (right - left - (across - 1) * gap_x) / across
panel_height = (top - bottom - (down - 1) * gap_y) / down
panel_x(k) = left + ((k - 1) % across) * (panel_width + gap_x)
panel_y(k) = top - int((k - 1) / across) * (panel_height + gap_y)

set xrange [x_low:x_high]
set yrange [y_low:y_high]
unset key

if (plain_text) {
    # One chart: a row an option; the likely range on the event's first day.
    set print $rows
    do for [k = 1:option_total] {
        found = 0
        do for [i = 1:|$fan|] {
            if (!found && field($fan[i], 1) == event_from) {
                found = 1
                middle = field($fan[i], 3 * k - 1)
                from = field($fan[i], 3 * k)
                to = field($fan[i], 3 * k + 1)
                print sprintf('%.9g %.9g %.9g %d', middle, from == from ? from : middle, to == to ? to : middle, -k)
            }
        }
    }
    set print
    low = NaN
    do for [i = 1:|$rows|] {
        dummy = take(field($rows[i], 1)) + take(field($rows[i], 2)) + take(field($rows[i], 3))
    }
    dummy = wide(0.1)
    set xrange [low:high]
    set yrange [-option_total - 0.7:-0.3]
    set lmargin at screen 0.44
    set rmargin at screen 0.97
    set tmargin at screen line(31)
    set bmargin at screen line(6)
    set format x '%.5g'
    unset ytics
    set label 4 fit(readiness_label, 60).', first day of the event; ----- 90 % range' at screen 0.02, line(32) left
    do for [k = 1:option_total] {
        set label 10 + k fit(value('option_name_'.k), 40) at screen 0.02, first -k left
    }
    plot $rows using 1:4:2:3 with xerrorbars notitle
} else {
    set format y '%.6g'
    step = 7 * ceil(span * across / 110.0)
    set xtics step * floor(x_low / step), step
    set ytics font f_small
    any_band = sum [k = 1:option_total] (banded[k] > 0)
    legend = 'black: the taper named, with readiness at the event'.(any_band ? ' (90 % range, grey)' : '')
    legend = legend.(option_total > 1 ? '; blue dashes: '.fit(option_name_1, 30) : '').'; shaded: the event'
    set multiplot
    set label 4 fit(readiness_label, columns * 0.45) at screen 0.022, 0.5 * (top + bottom) center rotate by 90 font font_for(readiness_label, columns * 0.5)
    set label 5 'days before (-) and after (+) the event starts' at screen 0.5 * (left + right), 0.06 center font f_small
    set label 6 legend at screen 0.5 * (left + right), 0.025 center font f_small textcolor rgb c_grey
    name_room = columns * panel_width * 0.98
    do for [k = 1:option_total] {
        set lmargin at screen panel_x(k)
        set rmargin at screen panel_x(k) + panel_width
        set tmargin at screen panel_y(k)
        set bmargin at screen panel_y(k) - panel_height
        if ((k - 1) % across) { set format y '' } else { set format y '%.6g' }
        if (k + across > option_total) { set format x '%g' } else { set format x '' }
        set label 7 fit(value('option_name_'.k), name_room) at graph 0, graph 1 left offset 0, 1.55 font f_small
        set label 8 fit(value('option_words_'.k), name_room) at graph 0, graph 1 left offset 0, 0.6 font f_small textcolor rgb c_grey
        set object 1 rectangle from event_from - 0.5, graph 0 to event_to + 0.5, graph 1 behind fillcolor rgb s_event fillstyle solid 1 border linecolor rgb c_orange
        plot NaN notitle, \
             for [j = 1:banded[k] > 0] $fan using 1:(column(3 * k)):(column(3 * k + 1)) with filledcurves fillcolor rgb s_range fillstyle transparent solid 0.8 noborder notitle, \
             for [j = 3 * k:(3 * k + 1) * (banded[k] > 0)] $fan using 1:(column(j)) with lines linewidth 0.7 linecolor rgb c_edge notitle, \
             for [j = 1:k > 1 && known[1] > 0] $fan using 1:2 with lines linewidth 1.6 linecolor rgb c_blue dashtype (8, 5) notitle, \
             for [j = 1:known[k] > 0] $fan using 1:(column(3 * k - 1)) with lines linewidth 2.6 linecolor rgb c_black notitle
        unset label 1
        unset label 2
        unset label 4
        unset label 5
        unset label 6
    }
    unset multiplot
}
