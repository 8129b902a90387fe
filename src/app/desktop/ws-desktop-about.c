/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-desktop.h"
#include "ws-intl.h"

#include <adwaita.h>

void
ws_desktop_show_about (GtkWindow *parent)
{
  const char *comments = _("For people who find wild mushrooms they cannot name: photos become finds, what an expert "
                           "needs to see is marked and what is missing is said, and a find is sent to somebody who "
                           "knows. The program itself never names a fungus.");

  adw_show_about_window (parent,
                         "application-name", "Wholestem",
                         "application-icon", "page.wholestem.Wholestem",
                         "version", WS_VERSION,
                         "comments", comments,
                         "license-type", GTK_LICENSE_GPL_3_0,
                         "translator-credits", _("translator-credits"),
                         NULL);
}
