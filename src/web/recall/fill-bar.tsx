import { writtenDecimal } from '../../../shared/written.js';
import type { View } from '../wire/client.js';

type Account = Pick<View<'LotAccountView'>, 'sent' | 'cameBack' | 'destroyed' | 'corrected' | 'soldOn' | 'outstanding'>;

const PARTS = [
  ['cameBack', 'came back'],
  ['destroyed', 'destroyed'],
  ['corrected', 'corrected'],
  ['soldOn', 'sold on'],
  ['outstanding', 'outstanding'],
] as const;

/** How much of what was sent is accounted for: a bar that fills, with its numbers beneath; they add up to what was sent. */
export function FillBar({ label, unit, account }: { label: string; unit: string; account: Account }) {
  const sent = Number(account.sent.quantity);
  const parts = PARTS.map(([key, says]) => ({
    key,
    says,
    quantity: account[key].quantity,
    part: sent === 0 ? 0 : Number(account[key].quantity) / sent,
  }));
  const said = parts
    .filter(({ quantity, key }) => quantity !== '0' || key === 'outstanding')
    .map(({ says, quantity }) => `${writtenDecimal(quantity)} ${says}`);
  return (
    <div className="fill" role="img" aria-label={`${label}: ${account.sent.quantity} ${unit} sent; ${said.join(', ')}`}>
      <div className="fill-bar">
        {parts.map(({ key, part }) => (part === 0 ? null : <span key={key} className={key} style={{ flexGrow: part }} />))}
      </div>
      <div className="fill-words">
        {writtenDecimal(account.sent.quantity, unit)} sent: {said.join(', ')}
      </div>
    </div>
  );
}
