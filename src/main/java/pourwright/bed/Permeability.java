package pourwright.bed;

/** How well the bed lets water through, pour by pour: it closes as fines settle. */
@FunctionalInterface
public interface Permeability {
  /**
   * Permeability while the water of a pour drains (m²).
   *
   * @param pour counts from 1
   */
  double squareMetres(int pour);
}
