/* A lesson for the explore page: what examples/lessons has for the terminal, as a question, guesses
 * and an answer.
 *
 * A lesson is a Markdown file with a title and the sections Question, Hints and Worked answer. A
 * comment in it says what the page does:
 *
 *   <!-- explore
 *   with: larger coil; indoor.coil.size = 1.4
 *   before: airflow 400 cfm/ton
 *   after: unit larger coil, airflow 400 cfm/ton
 *   guess: suction, latent, settled_humidity
 *   -->
 *
 * `with` names a second unit: the case's with these keys changed; a key without a value is taken
 * out. `before` and `after` are where the sliders are (airflow, outdoors, humidity, load, unit);
 * what is left out is the case's. `guess` names the figures (figures.h) to be guessed. */
#ifndef CLI_EXPLORE_LESSON_H
#define CLI_EXPLORE_LESSON_H

#include <stdbool.h>

#include "base/exit_codes.h"
#include "explore/figures.h"

enum { LESSON_MAX_GUESSES = 8, LESSON_MAX_CHANGES = 8 };

typedef struct {
    bool has[AXES];
    double at[AXES]; /* SI */
    bool second;     /* at the second unit */
} lesson_place;

typedef struct {
    char *text; /* the file, owned and cut to pieces; the rest points into it */
    const char *title, *question, *hints, *answer;
    const char *unit; /* name of the second unit, NULL: none */
    int n_changes;
    struct {
        const char *key, *value; /* NULL: taken out */
    } change[LESSON_MAX_CHANGES];
    lesson_place before, after;
    int n_guesses;
    int guess[LESSON_MAX_GUESSES]; /* of figures.h */
} lesson;

/* EXIT_DONE, or the message is out. lesson_free in any case. */
exit_code lesson_read(const char *path, lesson *l);
void lesson_free(lesson *l);

#endif
