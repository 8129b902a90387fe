/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A decoder that has been taken over, for test-decode.c: what it does wrong is the name it is started by. */
#include "ws-decode.h"

#include "ws-error.h"

#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>
#include <unistd.h>

extern char **environ;

static void
put (const WsDecodeAnswer *answer, gsize pixels)
{
  if (ftruncate (WS_DECODE_ANSWER_FD, (off_t) (WS_DECODE_PIXELS_AT + pixels)) != 0 ||
      pwrite (WS_DECODE_ANSWER_FD, answer, sizeof *answer, 0) != (gssize) sizeof *answer)
    abort ();
}

/* Errors: the text is what is asked for, or what this process can see. */
static void
put_error (const char *what)
{
  WsDecodeAnswer answer = { .magic = WS_DECODE_MAGIC, .state = WS_DECODE_ERROR, .code = WS_ERROR_UNREADABLE };
  g_autoptr (GString) seen = g_string_new (NULL);

  if (g_str_equal (what, "descriptors"))
    for (int fd = 0; fd < 1024; fd++)
      if (lseek (fd, 0, SEEK_CUR) >= 0 || write (fd, "", 0) >= 0)
        g_string_append_printf (seen, "%d ", fd);
  if (g_str_equal (what, "environment"))
    for (char **word = environ; *word != NULL; word++)
      g_string_append_printf (seen, "%.*s ", (int) strcspn (*word, "="), *word);
  g_strlcpy (answer.message, seen->str, sizeof answer.message);
  if (g_str_equal (what, "bad-text"))
    memset (answer.message, '\n', sizeof answer.message);
  if (g_str_equal (what, "bad-bytes"))
    memcpy (answer.message, "\xff\xfe<b>x</b>", 11);
  if (g_str_equal (what, "bad-code"))
    answer.code = 99;
  put (&answer, 0);
}

static const struct
{
  const char *name;
  gint32 width, height, full_width, full_height;
  gsize pixels;
  guint32 state;
} lies[] = {
  { "true", 10, 10, 10, 10, 300, WS_DECODE_PICTURE },
  { "more", 100, 100, 100, 100, 300, WS_DECODE_PICTURE },
  { "less", 10, 10, 10, 10, 301, WS_DECODE_PICTURE },
  { "none", 0, 0, 10, 10, 0, WS_DECODE_PICTURE },
  { "negative", -10, -10, 10, 10, 300, WS_DECODE_PICTURE },
  { "huge", G_MAXINT32, G_MAXINT32, G_MAXINT32, G_MAXINT32, 300, WS_DECODE_PICTURE },
  { "wraps", 65536, 65536, 65536, 65536, 0, WS_DECODE_PICTURE },
  { "full", 10, 10, 9, 10, 300, WS_DECODE_PICTURE },
  { "full-huge", 10, 10, G_MAXINT32, G_MAXINT32, 300, WS_DECODE_PICTURE },
  { "over-edge", 33, 10, 33, 10, 990, WS_DECODE_PICTURE },
  { "state", 10, 10, 10, 10, 300, 9 },
};

static gboolean
lie (const char *what)
{
  for (gsize i = 0; i < G_N_ELEMENTS (lies); i++)
    if (g_str_equal (what, lies[i].name))
      {
        WsDecodeAnswer answer = { .magic = WS_DECODE_MAGIC, .state = lies[i].state, .width = lies[i].width,
                                  .height = lies[i].height, .full_width = lies[i].full_width,
                                  .full_height = lies[i].full_height };

        put (&answer, lies[i].pixels);
        return TRUE;
      }
  return FALSE;
}

/* A true answer, and a second process that goes on writing into it. */
static void
leave_writer (void)
{
  void *at;

  lie ("true");
  at = mmap (NULL, 4096, PROT_READ | PROT_WRITE, MAP_SHARED, WS_DECODE_ANSWER_FD, 0);
  if (at == MAP_FAILED)
    abort ();
  if (fork () == 0)
    {
      close (WS_DECODE_LIFE_FD);
      sleep (3);
      _exit (0);
    }
}

int
main (int argc, char **argv)
{
  g_autofree char *what = g_path_get_basename (argv[0]);

  if (g_str_equal (what, "hang"))
    for (;;)
      pause ();
  if (g_str_equal (what, "hang-apart"))
    {
      close (WS_DECODE_LIFE_FD);
      sleep (600);
    }
  if (g_str_equal (what, "killed"))
    raise (SIGKILL);
  if (g_str_equal (what, "crash"))
    {
      signal (SIGSEGV, SIG_DFL);
      raise (SIGSEGV);
    }
  if (g_str_equal (what, "late"))
    {
      signal (SIGXCPU, SIG_DFL);
      raise (SIGXCPU);
    }
  if (g_str_equal (what, "status"))
    _exit (7);
  if (g_str_equal (what, "writer"))
    leave_writer ();
  else if (!g_str_equal (what, "silent") && !lie (what))
    put_error (what);
  _exit (0);
}
