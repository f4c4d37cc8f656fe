package pourwright.check;

/** What a check is doing. */
public enum Stage {
  /** The brewer is to do what is asked. */
  WAITING,
  /** Something moved; the weight has not come to rest. */
  SETTLING,
  /** The weight is being measured; hands off. */
  MEASURING,
  /** Something wrong was done and is to be undone. */
  UNDOING,
  /** No readings come. */
  BLIND,
  /** All is done. */
  DONE
}
