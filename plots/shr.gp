
# Sensible heat ratio: the share of the net capacity that cools rather than dries.
set label 100 'Sensible heat ratio by airflow' at screen 0.03,0.975 left font heading_font
set ylabel 'Net sensible heat ratio'
stats sweep_csv using (column(col_shr)) name 'R' nooutput
low = R_min
high = R_max
if (has_taps) { stats taps_csv using (widen_at(col_shr, column(col_shr))) nooutput }
room = 0.15 * (high - low) + 0.01
set yrange [low - room:high + room]
set format y '%.2f'

# A bare empty cell would be bridged; times one it is a NaN and leaves a gap.
share(v) = v * 1.0
pick_value = !has_pick ? '' : ", pick_csv using (x_of(0)):(at_pick(share(column(col_shr))))" \
    .":(sprintf('%.2f', column(col_shr))) with labels left offset 1.2,-0.8 notitle"
marks = pick_line(low - room, high + room).tap_keys \
    .tap_marks('share(column(col_shr))').pick_value

plot sweep_csv using (x_of(0)):(share(column(col_shr))) with linespoints linestyle 1 \
        pointinterval 4 notitle @marks
