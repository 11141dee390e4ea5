import { GoneException, Inject, Injectable, StreamableFile } from '@nestjs/common';
import { Refusal } from '../../../../shared/refusal.js';
import { CONFIG, type Config } from '../../platform/config.js';
import { Reader } from '../../platform/database/reader.js';
import type { UploadRequest } from '../../platform/http/multipart.js';
import { Commands } from '../commands.js';
import type { Actor } from '../people/access.js';
import { dispositionOf } from './file-name.js';
import { openStored } from './file-store.js';
import { decideAttach, decideDetach } from './files.decide.js';
import type { AttachFileDto, DetachFileDto, LotFileView, StoredFileView } from './files.dto.js';
import type { FileStored } from './files.facts.js';
import { attachmentOf, attachState, lotFiles, storedFile } from './files.query.js';
import { receiveFile } from './upload.js';

@Injectable()
export class FilesService {
  constructor(
    private readonly commands: Commands,
    private readonly reader: Reader,
    @Inject(CONFIG) private readonly config: Config,
  ) {}

  /** The file is durable before the entry that names it is written; without the entry it is a file that nobody asks for. */
  async store(actor: Actor, request: UploadRequest): Promise<StoredFileView> {
    const file = await receiveFile(request, this.config);
    return this.commands.run(actor, { ...file, commandId: undefined }, async (tx, record) => {
      const known = await storedFile(tx, file.sha256);
      if (!known) await record([{ kind: 'FileStored', v: 1, ...file } satisfies FileStored]);
      return known ?? file;
    });
  }

  async read(sha256: string): Promise<StreamableFile> {
    const file = await storedFile(this.reader.manager, sha256);
    if (!file) throw new Refusal('unknown', [{ code: 'file-unknown', detail: `no stored file ${sha256}`, sha256 }]);
    const opened = await openStored(this.config, file);
    if ('what' in opened) {
      const detail = `the file ${file.name} is no longer as it was stored: ${opened.detail}; sent again, the same content stands again`;
      throw new GoneException({ reasons: [{ code: 'file-gone', detail, sha256, what: opened.what }] });
    }
    const type = file.mediaType === 'text/plain' ? 'text/plain; charset=utf-8' : file.mediaType;
    return new StreamableFile(opened.createReadStream(), {
      type,
      disposition: dispositionOf(file.name, file.mediaType),
      length: file.bytes,
    });
  }

  attach(actor: Actor, lot: string, dto: AttachFileDto): Promise<LotFileView> {
    return this.commands.run(actor, { ...dto, lot } as AttachFileDto, async (tx, record) => {
      const command = { lot, file: dto.file, what: dto.what, note: dto.note };
      const [entry] = await record([decideAttach(command, await attachState(tx, command))]);
      return (await lotFiles(tx, lot))!.find((one) => one.attachment === entry!.seq)!;
    });
  }

  detach(actor: Actor, lot: string, attachment: string, dto: DetachFileDto): Promise<LotFileView> {
    return this.commands.run(actor, { ...dto, lot, attachment } as DetachFileDto, async (tx, record) => {
      const found = /^\d{1,9}$/.test(attachment) ? await attachmentOf(tx, lot, Number(attachment)) : undefined;
      if (!found) throw new Refusal('unknown', [{ code: 'attachment-unknown', detail: `lot ${lot} has no attachment ${attachment}` }]);
      await record([decideDetach(dto.reason, found)]);
      return (await lotFiles(tx, lot))!.find((one) => one.attachment === found.attachment)!;
    });
  }

  async ofLot(lot: string): Promise<LotFileView[]> {
    const files = await lotFiles(this.reader.manager, lot);
    if (!files) throw new Refusal('unknown', [{ code: 'lot-unknown', detail: `no lot ${lot}`, lot }]);
    return files;
  }
}
