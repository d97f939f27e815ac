#include "explain/picture.h"

#include <stdlib.h>

#include "base/complain.h"
#include "explain/curves.h"
#include "show/plot_script.h"

static bool write_curves(const picture *s, const explain_curves *c)
{
    static const picture_column columns[] = {{"curve", Q_PLAIN},
                                             {"per_ton_airflow", Q_AIRFLOW_PER_TON},
                                             {"sat_suction", Q_TEMPERATURE},
                                             {"sat_discharge", Q_TEMPERATURE},
                                             {"tube", Q_TEMPERATURE},
                                             {"unit_takes", Q_HEAT},
                                             {"coil_gives", Q_HEAT},
                                             {"coil_sensible", Q_HEAT},
                                             {"coil_surface", Q_TEMPERATURE}};
    write_file file;
    csv_writer csv;
    if (!out_open(&file, s->to.dir, "crossing", "csv")) return false;
    csv_begin(&csv, file.stream);
    picture_headings(&csv, columns, sizeof columns / sizeof columns[0], s->to.si);
    for (int i = 0; i < c->n; i++)
        for (int k = 0; k < c->curve[i].n; k++) {
            const ct_balance_trial *t = &c->curve[i].point[k];
            const double v[] = {i + 1,       c->point[i].V_std_per_ton,
                                t->Te,       t->Tc,
                                t->T_coil,   t->Q_unit,
                                t->Q_coil,   t->Q_coil_sens,
                                t->T_surface};
            for (size_t m = 0; m < sizeof v / sizeof v[0]; m++)
                csv_quantity(&csv, columns[m].q, v[m], EXACT, s->to.si);
            csv_end_row(&csv);
        }
    return write_file_end(&file, csv_good(&csv));
}

static bool write_crossings(const picture *s, const explain_curves *c)
{
    static const picture_column columns[] = {{"curve", Q_PLAIN},
                                             {"per_ton_airflow", Q_AIRFLOW_PER_TON},
                                             {"sat_suction", Q_TEMPERATURE},
                                             {"sat_discharge", Q_TEMPERATURE},
                                             {"coil_total", Q_HEAT},
                                             {"coil_sensible", Q_HEAT},
                                             {"coil_latent", Q_HEAT},
                                             {"coil_surface", Q_TEMPERATURE}};
    write_file file;
    csv_writer csv;
    if (!out_open(&file, s->to.dir, "crossing_points", "csv")) return false;
    csv_begin(&csv, file.stream);
    picture_headings(&csv, columns, sizeof columns / sizeof columns[0], s->to.si);
    for (int i = 0; i < c->n; i++) {
        const ct_balance *b = &c->point[i].balance;
        const double v[] = {
            i + 1,       c->point[i].V_std_per_ton, b->Te, b->Tc, b->Q, b->Q_sens, b->Q_lat,
            b->T_surface};
        for (size_t m = 0; m < sizeof v / sizeof v[0]; m++)
            csv_quantity(&csv, columns[m].q, v[m], EXACT, s->to.si);
        csv_end_row(&csv);
    }
    return write_file_end(&file, csv_good(&csv));
}

exit_code picture_curves(picture *s)
{
    write_file file;
    ct_fault fault;
    explain_curves *c = calloc(1, sizeof *c);
    if (!c) {
        complain("out of memory");
        return EXIT_SYSTEM;
    }
    exit_code code = EXIT_DONE;
    if (explain_curves_make(s->j, c, &fault) != CT_OK) code = complain_fault(&fault);
    if (code == EXIT_DONE && (!write_curves(s, c) || !write_crossings(s, c) ||
                              !out_open(&file, s->to.dir, "crossing", "gp")))
        code = EXIT_SYSTEM;
    if (code == EXIT_DONE) {
        picture_begin(file.stream, "crossing", "crossing.csv and crossing_points.csv",
                      s->j->c->job.title, s->to.si);
        fprintf(file.stream, "n_curves = %d\n", c->n);
        plot_script_degrees(file.stream, "label_flow", "Saturated suction", s->to.si);
        code = picture_end(s, "crossing", &file);
    }
    free(c);
    return code;
}
