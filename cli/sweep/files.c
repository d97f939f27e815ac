#include "sweep/files.h"

#include <string.h>

#include "base/complain.h"
#include "base/out_folder.h"
#include "show/plot_script.h"

static bool remove_pictures(const char *dir)
{
    for (int i = 0; plot_template_name(i); i++)
        if (!out_remove_pictures(dir, plot_template_name(i))) return false;
    return true;
}

static bool write_csv(const sweep_files *files, const char *name, const sweep_view *view,
                      const ct_point *points, int n)
{
    write_file file;
    return out_open(&file, files->dir, name, "csv") &&
           write_file_end(&file, sweep_columns_csv(file.stream, view, points, n, files->si));
}

static bool write_uncertain_csv(const sweep_files *files, const char *name,
                                const ct_uncertain_point *points, int n)
{
    write_file file;
    return out_open(&file, files->dir, name, "csv") &&
           write_file_end(&file,
                          uncertain_csv(file.stream, files->uncertain, points, n, files->si));
}

/* What was not asked for is removed: it would belong to an earlier run. */
static bool write_uncertain(const sweep_files *files)
{
    const ct_uncertain *u = files->uncertain ? files->uncertain->u : NULL;
    return (u ? write_uncertain_csv(files, "sweep_uncertain", u->point, u->n)
              : out_remove(files->dir, "sweep_uncertain", "csv")) &&
           (u && u->n_taps > 0 ? write_uncertain_csv(files, "taps_uncertain", u->tap, u->n_taps)
                               : out_remove(files->dir, "taps_uncertain", "csv"));
}

static plot_facts facts_of(const sweep_files *files, const sweep_view *view)
{
    const ct_case *c = view->job->c;
    return (plot_facts){.title = files->title,
                        .si = files->si,
                        .has_taps = view->sweep->n_taps > 0,
                        .has_load = c->house.Q_sensible > 0,
                        .Q_sensible = c->house.Q_sensible * (1 + c->house.margin),
                        .has_ceiling = c->house.rh_ceiling.has,
                        .rh_ceiling = c->house.rh_ceiling.v,
                        .load_sigma = c->uncertainty.load,
                        .T_frost = CT_FROST_LINE + c->limits.frost_guard};
}

/* A curve needs two points; with none gnuplot would stop at an empty range. */
static bool has_curve(const ct_sweep *s, const char *name)
{
    const bool humidity = strcmp(name, "humidity") == 0;
    int there = 0;
    for (int i = 0; i < s->n; i++)
        there += humidity ? s->point[i].has_room : s->point[i].status == CT_OK;
    return there > 1;
}

static exit_code draw_one(const sweep_files *files, const char *name, const plot_facts *facts,
                          bool *render)
{
    write_file file;
    if (!out_open(&file, files->dir, name, "gp") ||
        !write_file_end(&file, plot_script_write(file.stream, name, facts)))
        return EXIT_SYSTEM;
    return out_draw(files->dir, name, files->format, render);
}

static exit_code draw(const sweep_files *files, const sweep_view *view)
{
    const plot_facts facts = facts_of(files, view);
    bool render = files->render;
    exit_code code = EXIT_DONE;
    const char *name;
    for (int i = 0; (name = plot_template_name(i)); i++) {
        if (!files->uncertain && strcmp(name, "capacity_band") == 0) {
            if (!out_remove(files->dir, name, "gp")) code = EXIT_SYSTEM;
            continue;
        }
        if (has_curve(view->sweep, name)) {
            if (draw_one(files, name, &facts, &render) != EXIT_DONE) code = EXIT_SYSTEM;
            continue;
        }
        complain("%s: no %s plot: fewer than two airflows have a value", files->dir, name);
        if (!out_remove(files->dir, name, "gp")) code = EXIT_SYSTEM;
    }
    return code;
}

exit_code sweep_files_write(const sweep_files *files, const sweep_view *view)
{
    const ct_sweep *s = view->sweep;
    if (!out_folder(files->dir) || !remove_pictures(files->dir)) return EXIT_SYSTEM;
    if (!write_csv(files, "sweep", view, s->point, s->n)) return EXIT_SYSTEM;
    const bool taps_done = s->n_taps > 0 ? write_csv(files, "taps", view, s->tap, s->n_taps)
                                         : out_remove(files->dir, "taps", "csv");
    return taps_done && write_uncertain(files) ? draw(files, view) : EXIT_SYSTEM;
}
