/* Page: everything the job page says, calculated before a line of it is written.
 *
 * One page answers one question: which blower speed for one indoor unit on the outdoor unit of the
 * case. It is two pieces for two readers: one sheet for the customer, without figures only a trade
 * knows, and the technician's sheets. page_work_out does the computing; the page_write_...
 * functions write one part each, in the order of the page, and compute nothing. Values in SI. */
#ifndef CLI_PAGE_PAGE_H
#define CLI_PAGE_PAGE_H

#include <stdbool.h>
#include <stdio.h>

#include "base/job.h"
#include "judge/compatibility.h"
#include "page/plots.h"
#include "page/readings.h"
#include "show/fit_words.h"
#include "show/limit_words.h"
#include "show/outlook.h"
#include "study/compare.h"
#include "study/switches.h"
#include "tune/visit.h"

typedef struct {
    bool has;
    ct_comparison row;
    bool refused;  /* must not be installed: refrigerant or pressure */
    char why[200]; /* when it has not */
} page_candidate;

typedef struct page {
    job *j;
    bool metric;
    int unit;        /* index in the case */
    ct_sweep_job at; /* that unit on the outdoor unit */
    ct_sweep *sweep; /* owned */
    const ct_pick *pick;
    const ct_point *p; /* at the pick; when none passes, the one that comes nearest */
    bool has_matched;
    ct_matched_pair matched;
    char matched_why[200];
    page_candidate candidate[CT_MAX_INDOOR]; /* by index in the case */
    bool has_checks;
    ct_checks checks;
    fit_answer fit;
    bool has_hottest;
    double T_hottest;           /* K, hottest outdoor air at which this speed carries the load */
    bool has_sure;              /* the case was drawn around */
    double sure_all, sure_cool; /* 0..1, this speed passes every limit; carries the load */
    bool has_switches;
    ct_switches switches; /* fan, run-on, controls: what each makes of the humidity */
    outlook outlook;      /* how close the call is, or what would fix it */
    page_readings readings;
    const visit *visit;     /* tuned to; NULL when no readings were given */
    page_pictures pictures; /* owned */
} page;

/* EXIT_DONE: all is there; release it with page_free. Else the message is out. */
exit_code page_work_out(job *j, int unit, bool metric, page *p);
void page_free(page *p);

void page_write_head(FILE *out, const page *p); /* to the body */
void page_write_foot(FILE *out);

/* Sheets: the customer's is one, the technician's two, and a third when there are candidates. */
void page_begin_customer(FILE *out, const page *p);
void page_begin_technician(FILE *out, const page *p);
void page_next_sheet(FILE *out, const page *p, const char *what);
void page_end_sheet(FILE *out, const page *p);

void page_write_customer(FILE *out, const page *p);
void page_write_options(FILE *out, const page *p);  /* the customer's choices with their prices */
void page_write_advice(FILE *out, const page *p);   /* to the customer, when no speed passes */
void page_write_setting(FILE *out, const page *p);  /* tap, why, how sure */
void page_write_flooding(FILE *out, const page *p); /* of a piston, now or on a hotter day */
void page_write_figures(FILE *out, const page *p);  /* capacities, limits */
void page_write_pictures(FILE *out, const page *p); /* plots */
void page_write_start_up(FILE *out, const page *p); /* blanks for the readings */
void page_write_way_in(FILE *out, const page *p);
void page_write_inputs(FILE *out, const page *p);
void page_write_visit(FILE *out, const page *p); /* what the readings say; nothing without any */
void page_write_cautions(FILE *out, const page *p);
void page_write_candidates(FILE *out, const page *p);

/* The value as people read it on the page: as `shown`, with the degree sign. */
typedef struct {
    char text[SHOWN_SIZE + 64];
} page_value;
page_value page_show(const page *p, quantity q, double v);

/* For sentences: temperatures and shares without decimals. */
page_value page_about(const page *p, quantity q, double v);

/* A reading, no finer than gauge and thermometer show: whole psi, kPa and degrees F. */
page_value page_reading_value(const page *p, quantity q, double v);

/* A tolerance or a difference: as page_show, but 2 psi rather than 2 psig. */
page_value page_spread(const page *p, quantity q, double v);

/* "12,345 Btu/h more", "1.2 F less"; "the same" when the figures shown do not differ. */
page_value page_difference(const page *p, quantity q, double dv, const char *more,
                           const char *less);

/* Puts the degree sign into "41 F"; the text grows by at most half. */
void page_degrees(char *to, size_t size, const char *from);

/* As page_degrees, in a string of its own; free it. NULL: out of memory, which is reported. */
char *page_nice(const char *text);

/* “medium low”, or the airflow when there are no taps. */
page_value page_speed(const page *p, const ct_point *point);

/* Text of the job, cut to `length` characters with an ellipsis. */
typedef struct {
    char text[CT_TEXT_SIZE + 8];
} page_name;
page_name page_short(const char *text, int length);

/* 4200 as "4,200", with the currency of the job before it. */
page_value page_price(const page *p, double price);

/* A speed passes and nothing forbids the unit. */
bool page_passes(const page *p);

/* Little superheat behind a piston, now or on a hotter day: no limit, for the charge decides it,
 * but not safe. */
bool page_piston_risks(const ct_point *point);

const ct_indoor_unit *page_indoor(const page *p);

#endif
