/** Pages to print: one maker of PDF files for whatever is put on paper. */
@NullMarked
package pourwright.report;

import org.jspecify.annotations.NullMarked;
