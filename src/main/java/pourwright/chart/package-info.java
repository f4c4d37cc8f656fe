/**
 * Charts as SVG text: the same drawing for the page, for paper and as a file. Plain numbers in,
 * text out; colours stand in the drawing for paper and as classes for the page's two lights.
 */
@NullMarked
package pourwright.chart;

import org.jspecify.annotations.NullMarked;
