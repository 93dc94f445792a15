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
