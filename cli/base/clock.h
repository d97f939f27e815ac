/* Clock: seconds that only ever go forward, for progress and time limits. */
#ifndef CLI_BASE_CLOCK_H
#define CLI_BASE_CLOCK_H

double clock_seconds(void);

#endif
