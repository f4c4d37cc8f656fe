package pourwright.detect;

/** How the end of a drawdown is known. */
public enum Basis {
  /** The outflow was weighed. */
  MEASURED,
  /** From a calibrated drainage model. */
  MODELLED,
  /** Only known to have ended by then. */
  BOUNDED
}
