# residuals: what the fit leaves of each test, by date (left) and in order
# (right), where a line from test to test shows what they have in common.
#
# Needs
#   title, subtitle   strings
#   unit              string, the unit of a test; '' for none
#   sigma             [test] residual SD; NaN: no band
#   $residuals        rows: time [s since 1970 UTC], outcome less fit [test],
#                     order from 1; one row of NaN if there are no tests
#
# SPDX-License-Identifier: GPL-3.0-or-later

load scripts.'/common.gp'

day = 86400.0
most_labels = plain_text ? 4 : 6

# ---- ranges ----

has_band = sigma == sigma
low = has_band ? -2 * sigma : 0
high = has_band ? 2 * sigma : 0
known = sum [i = 1:|$residuals|] take(field($residuals[i], 2))
y_high = high > -low ? 1.12 * high : -1.12 * low
y_high = y_high > 0 ? y_high : 1
band = has_band ? 2 * sigma : 0

low = NaN
dated = sum [i = 1:|$residuals|] (field($residuals[i], 2) == field($residuals[i], 2)) * take(field($residuals[i], 1))
first_day = low == low ? low : 0
last_day = low == low ? high : 0
days_total = (last_day - first_day) / day + 1
x_margin = days_total < 20 ? day : 0.05 * days_total * day

# ---- dates: one label a day, week, month or more ----

months = days_total / 30.4
day_step = days_total <= most_labels ? 1 : days_total <= 2 * most_labels ? 2 : days_total <= 7 * most_labels ? 7 : days_total <= 14 * most_labels ? 14 : 0
month_step = months <= most_labels ? 1 : months <= 2 * most_labels ? 2 : months <= 3 * most_labels ? 3 : months <= 6 * most_labels ? 6 : 12 * int(ceil(months / 12 / most_labels))
# 5 January 1970 was a Monday.
labelled(t) = day_step == 0 ? tm_mday(t) == 1 && int(12 * tm_year(t) + tm_mon(t)) % month_step == 0 : \
              day_step < 7 ? int((t - first_day) / day + 0.5) % day_step == 0 : int(floor(t / day + 0.5) - 4) % day_step == 0
year_of(t) = strftime('%Y', t)
date_name = day_step == 0 || dated == 0 ? 'date' : 'date, '.year_of(first_day).(year_of(first_day) eq year_of(last_day) ? '' : '-'.year_of(last_day))

# ---- layout ----

in_unit = strlen(unit) > 0 ? ' ('.unit.')' : ''
y_name = 'test less fit'.in_unit
band_key = has_band ? fit(sprintf('within 2 sigma, %.3g', 2 * sigma).(strlen(unit) > 0 ? ' '.unit : ''), plain_text ? 40 : 60) : ''
bottom = plain_text ? line(6) : 0.215
top = plain_text ? line(29) : 0.85
left_1 = plain_text ? 0.10 : 0.10
right_1 = plain_text ? 0.50 : 0.525
left_2 = plain_text ? 0.57 : 0.56
right_2 = plain_text ? 0.97 : 0.975
set yrange [-y_high:y_high]
set format y '%.4g'
set tmargin at screen top
set bmargin at screen bottom
unset key
set multiplot

# Many points are drawn smaller.
size = known > 150 ? 0.6 : known > 60 ? 0.8 : 1.1
put(v) = known && dated ? v : away

# ---- left: by date ----

set lmargin at screen left_1
set rmargin at screen right_1
set xrange [first_day - x_margin:last_day + x_margin]
set xtics () nomirror
do for [i = 0:int(days_total + 0.5) - 1] {
    t = first_day + i * day
    if (labelled(t)) { set xtics add (strftime(day_step > 0 ? '%d %b' : '%b %Y', t) t) }
}
set xlabel date_name
if (plain_text) {
    set label 3 fit(y_name, 90) at screen 0.02, line(31) left
    if (has_band) {
        set arrow 1 from graph 0, first band to graph 1, first band nohead linetype 0
        set arrow 2 from graph 0, first -band to graph 1, first -band nohead linetype 0
    }
    plot 0 with lines linetype 0 notitle, \
         for [k = 1:known > 0] $residuals using (put($1)):2 with points pointtype 'o' notitle
} else {
    set label 3 fit(y_name, columns * 0.5) at screen 0.022, 0.5 * (top + bottom) center rotate by 90 font font_for(y_name, columns * 0.62 * (top - bottom))
    if (has_band) {
        set object 1 rectangle from graph 0, first -band to graph 1, first band behind fillcolor rgb s_band fillstyle solid 1 border linecolor rgb c_edge
    }
    plot 0 with lines linewidth 1.4 linecolor rgb c_grey notitle, \
         for [k = 1:known > 0] $residuals using (put($1)):2 with points pointtype 7 pointsize size * p linecolor rgb c_blue notitle
}

# ---- right: in order, with the legend of both ----

unset label 1
unset label 2
unset label 3
orders = |$residuals|
order_step = orders <= 10 ? 1 : orders <= 20 ? 2 : orders <= 50 ? 5 : 10 ** floor(log10(orders / 5.0)) * (orders / 5.0 / 10 ** floor(log10(orders / 5.0)) < 2 ? 2 : orders / 5.0 / 10 ** floor(log10(orders / 5.0)) < 5 ? 5 : 10)
set lmargin at screen left_2
set rmargin at screen right_2
set xrange [1 - 0.05 * (orders + 5):orders + 0.05 * (orders + 5)]
set xtics autofreq
set xtics order_step > 1 ? 0 : 1, order_step
set xlabel 'order of the tests'
set format x '%.0f'
if (plain_text) {
    set key at screen 0.5, line(0) center bottom horizontal maxrows 1
    plot 0 with lines linetype 0 title (has_band ? band_key : 'zero'), \
         for [k = 1:known > 0] $residuals using (put($3)):2 with points pointtype 'o' title 'a test'
} else {
    set format y ''
    set key at screen 0.5, 0.018 center bottom vertical maxrows 2 Left reverse samplen 3.5 spacing 1.2 width 1
    plot 0 with lines linewidth 1.4 linecolor rgb c_grey notitle, \
         for [k = 1:known > 0] $residuals using (put($3)):2 with lines linewidth 1.2 linecolor rgb c_bar notitle, \
         for [k = 1:known > 0] $residuals using (put($3)):2 with points pointtype 7 pointsize size * p linecolor rgb c_blue notitle, \
         for [k = 1:known > 0] keyentry with points pointtype 7 pointsize 1.1 * p linecolor rgb c_blue title 'a test', \
         for [k = 1:known > 1] keyentry with lines linewidth 1.6 linecolor rgb c_bar title 'from test to test', \
         for [k = 1:has_band] keyentry with boxes fillcolor rgb s_band fillstyle solid 1 border linecolor rgb c_edge title band_key
}
unset multiplot
