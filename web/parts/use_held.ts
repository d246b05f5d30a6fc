/**
 * Forms whose fields are no operation yet: what is entered outlives the page, and is let go of when it has become one.
 */
import { useRef, useState } from "preact/hooks";
import { dropForm, enteredIn, enteredSince, enterInJournal, holdForm } from "../local/held.ts";
import { sayWrong } from "./notices.tsx";

/** A form as it is entered. */
export type Held<Form> = {
  /** What is entered now. */
  form: Form;
  set: <Name extends keyof Form & string>(name: Name) => (value: Form[Name]) => Promise<void>;
  /**
   * Let go of it as it was when it was drawn, or as it was `sent`: it has become an operation, or nobody wants it. What
   * was entered since, such as the next word, is nobody's operation yet and stays.
   */
  drop: (sent?: Partial<Form>) => void;
  /** Whether something of it was entered before this page was opened. */
  isOld: boolean;
};

/** A form by its name, which says of what it is as well; `blank` is what it holds before anything is entered. */
export function useHeld<Form extends object>(name: string, blank: Form): Held<Form> {
  const [before] = useState(() => enteredIn(name) as Partial<Form> | undefined);
  const [form, setForm] = useState<Form>(() => ({ ...blank, ...before }));
  const newest = useRef(form);
  const put = (next: Form) => {
    newest.current = next;
    setForm(next);
  };
  return {
    form,
    isOld: before !== undefined,
    set: (field) => async (value) => {
      const next = { ...newest.current, [field]: value };
      enterInJournal(name, next);
      put(next);
      await holdForm(name);
    },
    drop: (sent) => {
      const since = enteredSince({ ...form, ...sent }, newest.current);
      const left = { ...blank, ...since };
      put(left);
      if (since) enterInJournal(name, left);
      (since ? holdForm(name) : dropForm(name)).catch(sayWrong);
    },
  };
}
