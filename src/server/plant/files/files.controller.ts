import { Body, Controller, Get, HttpCode, Param, Post, Req, type StreamableFile } from '@nestjs/common';
import { ApiBody, ApiConsumes, ApiOkResponse, ApiProduces } from '@nestjs/swagger';
import type { UploadRequest } from '../../platform/http/multipart.js';
import { type Actor, CurrentActor, EVERYONE, May, type Role } from '../people/access.js';
import { AttachFileDto, DetachFileDto, LotFileView, StoredFileView } from './files.dto.js';
import { MEDIA_TYPES } from './files.facts.js';
import { FilesService } from './files.service.js';

/** Whoever sees goods or papers may keep a picture of them. */
const KEEPERS: readonly Role[] = ['clerk', 'operator', 'inspector', 'quality', 'recall-lead', 'dispatcher', 'administrator'];

const BINARY = { type: 'string', format: 'binary' } as const;

@Controller()
export class FilesController {
  constructor(private readonly files: FilesService) {}

  /** Stores a photograph, certificate or report under the SHA-256 of its content; content that is stored already is answered as it stands. */
  @Post('files')
  @May(...KEEPERS)
  @ApiConsumes('multipart/form-data')
  @ApiBody({ schema: { type: 'object', required: ['file'], properties: { file: BINARY } } })
  storeFile(@CurrentActor() actor: Actor, @Req() request: unknown): Promise<StoredFileView> {
    return this.files.store(actor, request as UploadRequest);
  }

  /** The content of a stored file. */
  @Get('files/:sha256')
  @May(...EVERYONE)
  @ApiProduces(...MEDIA_TYPES)
  @ApiOkResponse({ schema: BINARY })
  getFile(@Param('sha256') sha256: string): Promise<StreamableFile> {
    return this.files.read(sha256);
  }

  /** Says that a stored file belongs to a lot: its certificate, a test report, a photograph. */
  @Post('lots/:lot/files')
  @May(...KEEPERS)
  attachFile(@CurrentActor() actor: Actor, @Param('lot') lot: string, @Body() body: AttachFileDto): Promise<LotFileView> {
    return this.files.attach(actor, lot, body);
  }

  /** Takes back an attachment that was wrong; both stay readable. */
  @Post('lots/:lot/files/:attachment/detachment')
  @HttpCode(200)
  @May(...KEEPERS)
  detachFile(
    @CurrentActor() actor: Actor,
    @Param('lot') lot: string,
    @Param('attachment') attachment: string,
    @Body() body: DetachFileDto,
  ): Promise<LotFileView> {
    return this.files.detach(actor, lot, attachment, body);
  }

  /** What belongs to a lot, and what was wrongly said to, in order of recording. */
  @Get('lots/:lot/files')
  @May(...EVERYONE)
  listLotFiles(@Param('lot') lot: string): Promise<LotFileView[]> {
    return this.files.ofLot(lot);
  }
}
