/** The local page: what a rehearsal shows to browsers and other programs, and whom it lets in. */
@NullMarked
package pourwright.web;

import org.jspecify.annotations.NullMarked;
