#include "new/prompt.h"

#include <ctype.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

bool prompt_line(dialog *d, const char *prompt, char line[ANSWER_SIZE])
{
    fputs(prompt, d->out);
    fflush(d->out);
    char *text = NULL;
    size_t room = 0;
    const ssize_t length = getline(&text, &room, d->in);
    if (length >= 0) {
        const char *s = text;
        size_t n = strlen(text);
        while (n > 0 && isspace((unsigned char)text[n - 1]))
            n--;
        text[n] = '\0';
        while (isspace((unsigned char)*s))
            s++;
        snprintf(line, ANSWER_SIZE, "%s", s);
    }
    free(text);
    return length >= 0;
}

bool prompt_is_word(const char *line, const char *const *words)
{
    for (; *words; words++)
        if (strcasecmp(line, *words) == 0) return true;
    return false;
}

bool prompt_is_back(const char *line)
{
    static const char *const words[] = {"b", "back", NULL};
    return prompt_is_word(line, words);
}

bool prompt_is_quit(const char *line)
{
    static const char *const words[] = {"q", "quit", "exit", NULL};
    return prompt_is_word(line, words);
}
