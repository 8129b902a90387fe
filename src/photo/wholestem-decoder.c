/* SPDX-License-Identifier: GPL-3.0-or-later */
/* wholestem-decoder NAME MAX-EDGE SECONDS: decodes the bytes of descriptor 3 into descriptor 4, locked in. It is started by
 * ws-decode.c and of no use by hand. */
#include "ws-confine.h"
#include "ws-decode.h"
#include "ws-error.h"
#include "ws-intl.h"

#include <errno.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>
#include <sys/stat.h>
#include <unistd.h>

/* Address space: the libraries, the file, what decoding may hold (WS_PICTURE_MAX_MEMORY) and as much again for what the
 * allocator and the threads of a decoder reserve without using. */
#define MAX_ADDRESS_SPACE (2 * WS_PICTURE_MAX_MEMORY + G_GUINT64_CONSTANT (1000000000))

static gboolean
write_at (gsize at, const void *data, gsize size)
{
  const char *from = data;

  while (size > 0)
    {
      gssize n = pwrite (WS_DECODE_ANSWER_FD, from, size, (off_t) at);

      if (n < 0 && errno == EINTR)
        continue;
      if (n <= 0)
        return FALSE;
      from += n;
      at += (gsize) n;
      size -= (gsize) n;
    }
  return TRUE;
}

static gboolean
answer_picture (const WsPicture *picture)
{
  WsDecodeAnswer answer = { .magic = WS_DECODE_MAGIC, .state = WS_DECODE_PICTURE, .width = picture->width,
                            .height = picture->height, .full_width = picture->full_width,
                            .full_height = picture->full_height, .raw_preview = picture->raw_preview };
  gsize size;
  const void *pixels = g_bytes_get_data (picture->pixels, &size);

  return write_at (WS_DECODE_PIXELS_AT, pixels, size) && write_at (0, &answer, sizeof answer);
}

static gboolean
answer_error (const GError *error)
{
  WsDecodeAnswer answer = { .magic = WS_DECODE_MAGIC, .state = WS_DECODE_ERROR,
                            .code = error->domain == WS_ERROR ? error->code : WS_ERROR_FAILED };

  g_strlcpy (answer.message, error->message, sizeof answer.message);
  return write_at (0, &answer, sizeof answer);
}

/* Everything that opens files comes before the filter: libvips and its modules, the catalogue of messages. */
static GBytes *
prepare (const char *program, int max_edge, guint seconds, GError **error)
{
  struct stat info;
  void *input;

  if (!ws_picture_init (program, error))
    return NULL;
  (void) g_dgettext (GETTEXT_PACKAGE, "");
  if (fstat (WS_DECODE_INPUT_FD, &info) != 0 || info.st_size <= 0 ||
      (input = mmap (NULL, (gsize) info.st_size, PROT_READ, MAP_SHARED, WS_DECODE_INPUT_FD, 0)) == MAP_FAILED)
    {
      g_set_error (error, WS_ERROR, WS_ERROR_FAILED, "there is no file to decode: %s", g_strerror (errno));
      return NULL;
    }
  if (!ws_confine_limits (seconds, MAX_ADDRESS_SPACE, ws_decode_answer_limit (max_edge)) || !ws_confine_calls ())
    {
      g_set_error (error, WS_ERROR, WS_ERROR_FAILED,
                   _("This system does not let a program lock itself in, so pictures from others are not decoded here"));
      return NULL;
    }
  return g_bytes_new_static (input, (gsize) info.st_size);
}

int
main (int argc, char **argv)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GBytes) bytes = NULL;
  g_autoptr (WsPicture) picture = NULL;
  gboolean answered;
  int max_edge;

  if (argc != 4)
    return 2;
  ws_intl_init ();
  max_edge = atoi (argv[2]);
  bytes = prepare (argv[0], max_edge, (guint) atoi (argv[3]), &error);
  if (bytes != NULL)
    picture = ws_picture_decode (bytes, argv[1], max_edge, NULL, &error);
  answered = picture != NULL ? answer_picture (picture) : answer_error (error);
  /* Nothing is tidied up: what libraries do at exit may want calls that are gone. */
  _exit (answered ? 0 : 1);
}
