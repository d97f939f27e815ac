# Humidity over a season at two speeds: above, day by day or bin by bin; below, the hours from the
# dampest on, so how long it is damper than that.
hours_csv = here.'season_hours.csv'
duration_csv = here.'season_duration.csv'
percent(v) = v * 100.0
counted(v) = column('counted') == 1 ? v : NaN
day(v) = floor((column('line') - 1) / 24) + 1 + 0 * v
place(v) = hourly ? day(v) : temperature(column(col_outdoor)) + 0 * v

stats duration_csv using (percent(column(col_a))) name 'A' nooutput
low = A_min
high = A_max
if (has_b) {
    stats duration_csv using (percent(column(col_b))) name 'B' nooutput
    if (B_min < low) { low = B_min }
    if (B_max > high) { high = B_max }
}
if (has_ceiling && ceiling > high) { high = ceiling }
if (has_ceiling && ceiling < low) { low = ceiling }
room = 0.08 * (high - low) + 1
stats hours_csv using (counted(place(0))) name 'X' nooutput

set multiplot
set label 100 'Humidity over the season' at screen 0.03,0.975 left font heading_font
set label 120 hourly ? 'Mean of each day that needs cooling, % RH' : 'Where the house settles, % RH' \
    at screen 0.03,0.882 left
set tmargin at screen 0.86
set bmargin at screen 0.55
unset key
set yrange [low - room:high + room]
set format y '%.0f'
pad = 0.02 * (X_max - X_min) + (hourly ? 0.5 : 0.1)
set xrange [X_min - pad:X_max + pad]
set xlabel hourly ? 'Day of the weather file' : 'Outdoor temperature, '.unit_temperature
if (has_ceiling) {
    set arrow 140 from graph 0,first ceiling to graph 1,first ceiling nohead linestyle 4 back
}
# Each day's mean; a point for each bin.
style_a = hourly ? 'with lines linestyle 1 linewidth 2' : 'with linespoints linestyle 1'
line_b = !has_b ? '' : \
    ', hours_csv using (counted(place(0))):(counted(percent(column(col_b)))) smooth unique ' \
    .(hourly ? 'with lines linestyle 2 linewidth 2' : 'with linespoints linestyle 2')
plot hours_csv using (counted(place(0))):(counted(percent(column(col_a)))) smooth unique @style_a \
    @line_b

unset label 100
unset label 101
if (has_ceiling) {
    set label 141 sprintf('limit %.0f%%', ceiling) at graph 0.995,first ceiling right offset 0,0.6
}
set label 120 'Humidity indoors, % RH, dampest hours first' at screen 0.03,0.455 left
set tmargin at screen 0.43
set bmargin at screen 0.16
set xlabel hourly ? 'Hours of days that need cooling, %' : 'Hours that need cooling, %'
set xrange [0:100]
set key at screen 0.52,0.04 center center maxrows 1
line_b = !has_b ? '' : \
    ', duration_csv using (percent(column(1))):(percent(column(col_b))) with lines linestyle 2' \
    .' title name_b'
plot duration_csv using (percent(column(1))):(percent(column(col_a))) with lines linestyle 1 \
        title name_a @line_b
unset multiplot
