# forecast: each test beside the model's prediction of it from the earlier tests,
# and beside the test before it.
#
# Needs
#   title, subtitle   strings
#   unit              string, the unit of a test; '' for none
#   $forecast         rows: time [s since 1970 UTC], outcome, predicted, its
#                     5 % and 95 % points, the test before [test]; one row of
#                     NaN if there are no tests
#
# SPDX-License-Identifier: GPL-3.0-or-later

load scripts.'/common.gp'

day = 86400.0
most_labels = plain_text ? 8 : 10

# ---- ranges; the shortest time between two tests ----

low = NaN
outcomes = sum [i = 1:|$forecast|] take(field($forecast[i], 2))
predictions = sum [i = 1:|$forecast|] take(field($forecast[i], 3))
bars = sum [i = 1:|$forecast|] take(field($forecast[i], 4)) * take(field($forecast[i], 5))
lasts = sum [i = 1:|$forecast|] take(field($forecast[i], 6))
dummy = wide(0.06)
y_low = low
y_high = high

low = NaN
dated = sum [i = 1:|$forecast|] take(field($forecast[i], 1))
first_day = low == low ? low : 0
last_day = low == low ? high : 0
days_total = (last_day - first_day) / day + 1
x_margin = days_total < 20 ? day : 0.04 * days_total * day
low = NaN
dummy = sum [i = 2:|$forecast|] take(field($forecast[i], 1) - field($forecast[i - 1], 1))
gap = low == low ? low : 2 * x_margin

# ---- dates: one label a day, week, month or more ----

months = days_total / 30.4
day_step = days_total <= most_labels ? 1 : days_total <= 2 * most_labels ? 2 : days_total <= 7 * most_labels ? 7 : days_total <= 14 * most_labels ? 14 : 0
month_step = months <= most_labels ? 1 : months <= 2 * most_labels ? 2 : months <= 3 * most_labels ? 3 : months <= 6 * most_labels ? 6 : 12 * int(ceil(months / 12 / most_labels))
# 5 January 1970 was a Monday.
labelled(t) = day_step == 0 ? tm_mday(t) == 1 && int(12 * tm_year(t) + tm_mon(t)) % month_step == 0 : \
              day_step < 7 ? int((t - first_day) / day + 0.5) % day_step == 0 : int(floor(t / day + 0.5) - 4) % day_step == 0
year_of(t) = strftime('%Y', t)
date_name = day_step == 0 || dated == 0 ? 'date' : 'date, '.year_of(first_day).(year_of(first_day) eq year_of(last_day) ? '' : '-'.year_of(last_day))
set xtics () nomirror
do for [i = 0:int(days_total + 0.5) - 1] {
    t = first_day + i * day
    if (labelled(t)) { set xtics add (strftime(day_step > 0 ? '%d %b' : '%b %Y', t) t) }
}

# ---- picture ----

y_name = strlen(unit) > 0 ? unit : 'test'
bottom = plain_text ? line(7) : 0.215
top = plain_text ? line(29) : 0.85
set lmargin at screen (plain_text ? 0.10 : 0.09)
set rmargin at screen 0.965
set tmargin at screen top
set bmargin at screen bottom
set xrange [first_day - x_margin:last_day + x_margin]
set yrange [y_low:y_high]
set format y '%.6g'
set xlabel date_name

outcome_key = 'test'
predicted_key = 'predicted by the model, with its 90 % range'
last_key = 'the test before'
# Many points are drawn smaller.
size = outcomes > 120 ? 0.55 : outcomes > 50 ? 0.75 : 1
# The three stand side by side where there is room, each test in the middle.
aside = 0.009 * (last_day - first_day + 2 * x_margin)
aside = plain_text ? 0 : aside < 0.24 * gap ? aside : 0.24 * gap
put(on, v) = on && dated ? v : away
if (plain_text) {
    set label 3 fit(y_name, 90) at screen 0.02, line(31) left
    set key at screen 0.98, line(0) right bottom vertical maxrows 3
    plot NaN notitle, \
         for [k = 1:bars > 0] $forecast using (put(bars, $1)):4:(0):($5 - $4) with vectors nohead linetype 0 notitle, \
         for [k = 1:lasts > 0] $forecast using (put(lasts, $1)):6 with points pointtype 'L' title last_key, \
         for [k = 1:predictions > 0] $forecast using (put(predictions, $1)):3 with points pointtype 'm' title predicted_key, \
         for [k = 1:outcomes > 0] $forecast using (put(outcomes, $1)):2 with points pointtype 'T' title outcome_key
} else {
    set label 3 fit(y_name, columns * 0.5) at screen 0.022, 0.5 * (top + bottom) center rotate by 90 font font_for(y_name, columns * 0.62 * (top - bottom))
    set key at screen 0.5, 0.018 center bottom vertical maxrows 2 Left reverse samplen 2.5 spacing 1.2 width 1
    plot NaN notitle, \
         for [k = 1:bars > 0] $forecast using (put(bars, $1 - aside)):4:(0):($5 - $4) with vectors nohead linewidth 4 * size linecolor rgb c_bar notitle, \
         for [k = 1:lasts > 0] $forecast using (put(lasts, $1 + aside)):6 with points pointtype 4 pointsize 1.2 * size * p linewidth 2.4 linecolor rgb c_orange notitle, \
         for [k = 1:predictions > 0] $forecast using (put(predictions, $1 - aside)):3 with points pointtype 7 pointsize 1.2 * size * p linecolor rgb c_blue notitle, \
         for [k = 1:outcomes > 0] $forecast using (put(outcomes, $1)):2 with points pointtype 13 pointsize 2.1 * size * p linecolor rgb '#FFFFFF' notitle, \
         for [k = 1:outcomes > 0] $forecast using (put(outcomes, $1)):2 with points pointtype 13 pointsize 1.6 * size * p linecolor rgb c_black notitle, \
         for [k = 1:outcomes > 0] keyentry with points pointtype 13 pointsize 1.6 * p linecolor rgb c_black title outcome_key, \
         for [k = 1:predictions > 0] keyentry with yerrorbars pointtype 7 pointsize 1.2 * p linewidth 3 linecolor rgb c_blue title predicted_key, \
         for [k = 1:lasts > 0] keyentry with points pointtype 4 pointsize 1.2 * p linewidth 2.4 linecolor rgb c_orange title last_key
}
