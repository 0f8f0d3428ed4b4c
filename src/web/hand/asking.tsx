// Owns what a person has to say beside the tap: a torque as read, how much came out, where a part lies, what a test reads, how an energy was proved dead.

import { useState } from "preact/hooks";
import { type Act, type Body, doubtTorque } from "../../ledger/index.ts";
import { readQuantity } from "../../quantity/index.ts";
import { useFigures } from "../sheet/figures.ts";
import { useWords } from "../words/words.ts";
import { ActButton, notHeld } from "./act-button.tsx";
import { useTyped } from "./half-done.ts";
import { sayAct, sayLimits } from "./say.ts";
import { useWork } from "./work.tsx";

interface Said {
  readonly act: Act;
  /** True where it is entered. */
  readonly onEnter: (body: Body, sure?: boolean) => Promise<boolean>;
  readonly isBusy?: boolean;
}

export const Asking = (said: Said) => {
  switch (said.act.asks) {
    case "torque":
      return <AskTorque {...said} />;
    case "amounts":
      return <AskAmounts {...said} />;
    default:
      return <AskText {...said} />;
  }
};

/** The figure that is wanted stands there: a wrench that clicks at it needs one tap. The second person's own reading is not suggested. */
const AskTorque = ({ act: { body }, onEnter, isBusy = false }: Said) => {
  const words = useWords();
  const figures = useFigures();
  const { book } = useWork();
  const isSecond = body.kind === "torque value";
  const at = "at" in body ? (body.at ?? "") : "";
  const wanted = book.brief.joints.find(({ id }) => id === at)?.torque;
  const unit = figures.unit("torque");
  const usual = isSecond || wanted === undefined ? "" : figures.plain(wanted.aim, "torque");
  const typed = useTyped(`torque ${at}`, usual);
  const unseen = useState(usual);
  // What the second person reads is not kept: it would be suggested to the next one.
  const [read, setRead] = isSecond ? unseen : typed;
  const [doubted, setDoubted] = useState<string>();
  const torque = `${read.replace(",", ".")} ${unit}`;
  const done = () => {
    if (wanted !== undefined && doubtTorque(wanted, torque) !== undefined && doubted !== torque) {
      setDoubted(torque);
      return;
    }
    void onEnter({ ...body, torque } as Body, doubted === torque).then((isEntered) => isEntered && setRead(usual));
  };
  return (
    <form
      class="asking"
      onSubmit={(event) => {
        event.preventDefault();
        done();
      }}
    >
      <label class="field">
        <span>
          {words.hand.torqueRead} ({unit})
        </span>
        <input
          inputMode="decimal"
          required
          pattern="[0-9]+([.,][0-9]+)?"
          onKeyDown={notHeld}
          value={read}
          onInput={({ currentTarget }) => setRead(currentTarget.value)}
        />
      </label>
      {doubted === torque && wanted !== undefined ? (
        <p class="notice">
          {words.hand.doubt(figures.measure(wanted.aim, "torque"), sayLimits(wanted, figures, words))}
        </p>
      ) : null}
      <ActButton isBusy={isBusy}>
        {doubted === torque ? words.hand.sure : isSecond ? words.hand.acts["torque value"] : words.hand.acts.torqued}
      </ActButton>
    </form>
  );
};

const AskAmounts = ({ act: { body }, onEnter, isBusy = false }: Said) => {
  const words = useWords();
  const figures = useFigures();
  const { book } = useWork();
  const unit = figures.unit("volume");
  const wanted = "amounts" in body ? body.amounts : {};
  const usual: Readonly<Record<string, string>> = Object.fromEntries(
    Object.entries(wanted).map(([fluid, amount]) => {
      const reading = readQuantity(amount, "volume");
      return [fluid, "value" in reading ? figures.plain(reading.value.nominal, "volume") : ""];
    }),
  );
  const [read, setRead] = useTyped(`amounts ${body.kind} ${"task" in body ? body.task : ""}`, usual);
  return (
    <form
      class="asking"
      onSubmit={(event) => {
        event.preventDefault();
        const amounts = Object.fromEntries(
          Object.entries(read).map(([fluid, amount]) => [fluid, `${amount.replace(",", ".")} ${unit}`]),
        );
        void onEnter({ ...body, amounts } as Body).then((isEntered) => isEntered && setRead(usual));
      }}
    >
      {Object.keys(wanted).map((fluid) => (
        <label key={fluid} class="field">
          <span>
            {fluid} ({unit})
          </span>
          <input
            inputMode="decimal"
            required
            pattern="[0-9]+([.,][0-9]+)?"
            onKeyDown={notHeld}
            value={read[fluid] ?? ""}
            onInput={({ currentTarget: { value } }) => setRead({ ...read, [fluid]: value })}
          />
        </label>
      ))}
      <ActButton isBusy={isBusy}>{sayAct(words, book.brief, body)}</ActButton>
    </form>
  );
};

/** Free words, with what is said most as one touch each. A test's reading may be left out. */
const AskText = ({ act: { body, asks }, onEnter, isBusy = false }: Said) => {
  const words = useWords();
  const { book, me } = useWork();
  const [text, setText] = useTyped(`said ${JSON.stringify(body)}`, "");
  const usual: readonly string[] = asks === "place" ? words.hand.places : asks === "proof" ? words.hand.proofs : [];
  const said = (value: string): Body => {
    if (body.kind === "set aside") return { ...body, place: value };
    if (body.kind === "isolated") return { ...body, key: me?.id ?? "", ...(value === "" ? {} : { proved: value }) };
    return value === "" ? body : ({ ...body, reading: value } as Body);
  };
  const isNeeded = body.kind === "set aside" || body.kind === "isolated";
  return (
    <form
      class="asking"
      onSubmit={(event) => {
        event.preventDefault();
        void onEnter(said(text.trim())).then((isEntered) => isEntered && setText(""));
      }}
    >
      {usual.length === 0 ? null : (
        <fieldset class="row" aria-label={words.hand[asks === "place" ? "place" : "proof"]}>
          {usual.map((one) => (
            <button key={one} type="button" aria-pressed={text === one} onClick={() => setText(one)}>
              {one}
            </button>
          ))}
        </fieldset>
      )}
      <label class="field">
        <span>{asks === "place" ? words.hand.place : asks === "proof" ? words.hand.proof : words.hand.reading}</span>
        <input
          required={isNeeded}
          maxLength={200}
          onKeyDown={notHeld}
          value={text}
          onInput={({ currentTarget }) => setText(currentTarget.value)}
        />
      </label>
      <ActButton isBusy={isBusy}>{sayAct(words, book.brief, body)}</ActButton>
    </form>
  );
};
