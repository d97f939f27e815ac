# Style of all plots: the picture's format, its type and sizes, where its files are, lines and marks.
# Made to be read on a phone: 780 x 1000 pixels with large type. Line dashes and markers differ as
# well as colors, so that black-and-white prints and color-blind readers lose nothing; the colors
# are Okabe and Ito's (2008), darkened where text in them would be too pale on white (WCAG 2.1, 1.4.3).
if (!exists('format')) format = 'png'
if (format ne 'png' && format ne 'svg' && format ne 'pdf') {
    print "format '".format."' is not known; allowed: png, svg, pdf"
    exit status 2
}
here = ''
if (exists('ARG0')) { do for [i = 1:strlen(ARG0)] { if (ARG0[i:i] eq '/') { here = ARG0[1:i] } } }
set encoding utf8
if (format eq 'svg') {
    set terminal svg noenhanced size 780,1000 font 'DejaVu Sans,Verdana,sans-serif,23' \
        linewidth 1.5 dashlength 0.55 background 'white'
    heading_font = ',29'
    mark = 0.45
} else { if (format eq 'pdf') {
    set terminal pdfcairo noenhanced size 5.85in,7.5in font 'DejaVu Sans,9.8' fontscale 1 \
        linewidth 1.7 dashlength 0.9
    heading_font = ',12.8'
    mark = 0.55
} else {
    set terminal pngcairo noenhanced size 780,1000 font 'DejaVu Sans,17.5' linewidth 1.5 \
        dashlength 1.1
    heading_font = ',23'
    mark = 1.0
} }
set output here.plot_name.'.'.format

blue = '#00609A'
red = '#B84A00'
green = '#00704F'
black = '#000000'
gray = '#707070'
set style line 1 linecolor rgb blue linewidth 3 dashtype 1 pointtype 7 pointsize 1.3*mark
set style line 2 linecolor rgb red linewidth 3 dashtype (14,7) pointtype 5 pointsize 1.2*mark
set style line 3 linecolor rgb green linewidth 3 dashtype (14,6,3,6) pointtype 9 pointsize 1.6*mark
set style line 4 linecolor rgb black linewidth 2.5 dashtype (3,5)
set style line 5 linecolor rgb black linewidth 1.5 pointtype 6 pointsize 2.3*mark
set style line 6 linecolor rgb black linewidth 2.5 pointtype 13 pointsize 3*mark
set style line 7 linecolor rgb '#8A2F6B' linewidth 3 dashtype (4,4) pointtype 11 pointsize 1.5*mark
set style line 9 linecolor rgb '#C8C8C8' linewidth 0.7 dashtype 1

set datafile separator comma columnheaders
set border 3 linecolor rgb gray
set tics nomirror textcolor rgb black
set grid xtics ytics linestyle 9
set lmargin at screen 0.15
set rmargin at screen 0.955
set tmargin at screen 0.89
set bmargin at screen 0.165
# The SVG terminal takes type for wider than it is and would push the key off the page.
set key at screen 0.52,0.045 center center vertical reverse Left samplen 3.2 maxrows 2 \
    width (format eq 'svg' ? -3 : 0)
set xlabel offset 0,(format eq 'svg' ? 0.7 : 0.2)
set ylabel offset 0.4,0
set label 101 job_title at screen 0.03,0.935 left textcolor rgb '#404040'

