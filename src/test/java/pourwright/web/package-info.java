/** Holds the page and its server to their word, in sockets and in a browser. */
@NullMarked
package pourwright.web;

import org.jspecify.annotations.NullMarked;
