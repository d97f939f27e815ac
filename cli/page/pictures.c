#include "base/html.h"
#include "page/page.h"

static const struct {
    const char *prefix, *title, *description;
} pictures[PICTURE_COUNT] = {
    {"pc-", "Capacity by airflow",
     "Net total, sensible and latent capacity by airflow, with the sensible load, the blower "
     "speeds and the pick."},
    {"pt-", "Coil temperature by airflow",
     "Apparatus dew point, coldest surface and saturated suction by airflow, with the frost line."},
    {"ph-", "Humidity the house settles at",
     "Relative humidity the house settles at by airflow, with the fan switch at AUTO and at ON, "
     "and the highest humidity allowed."},
    {"ps-", "Superheat by outdoor temperature",
     "Superheat at the coil by outdoor temperature, for the metering device installed and for the "
     "other kind."},
};

static void write_speeds(FILE *out, const page *p)
{
    const ct_tap *tap = page_indoor(p)->blower.tap;
    fputs("<p class=\"note\">", out);
    html_say(out, "Load: the sensible load plus its margin.");
    if (p->sweep->n_taps > 0) html_say(out, " The numbers above the plots are blower speeds: ");
    for (int i = 0; i < p->sweep->n_taps; i++)
        html_say(out, "%s%d %s", i ? ", " : "", p->sweep->tap[i].tap + 1,
                 page_short(tap[p->sweep->tap[i].tap].name, 14).text);
    if (p->sweep->n_taps > 0) html_say(out, ".");
    if (p->at.has_low)
        html_say(out,
                 " Humidity hardly changes where the low stage, at its own speed, does most of "
                 "the work.");
    fputs("</p>\n", out);
}

static void write_picture(FILE *out, const page *p, page_picture i)
{
    if (!p->pictures.svg[i]) return;
    fputs("<figure>", out);
    html_element(out, "figcaption", NULL, "%s", pictures[i].title);
    if (!svg_inline(out, p->pictures.svg[i], pictures[i].prefix, pictures[i].title,
                    pictures[i].description))
        html_element(out, "p", "note", "This plot could not be added to the page.");
    fputs("</figure>\n", out);
}

void page_write_pictures(FILE *out, const page *p)
{
    fputs("<section>\n", out);
    html_element(out, "h2", NULL, "Plots");
    if (p->pictures.why[0])
        html_element(out, "p", NULL, "There are no plots: %s.", p->pictures.why);
    fputs("<div class=\"two plots\">\n", out);
    for (int i = 0; i < PICTURE_COUNT; i++)
        write_picture(out, p, (page_picture)i);
    fputs("</div>\n", out);
    if (!p->pictures.why[0]) write_speeds(out, p);
    fputs("</section>\n", out);
}
