import { Body, Controller, Get, HttpCode, Param, Post, Query } from '@nestjs/common';
import { type Actor, CurrentActor, EVERYONE, May } from '../people/access.js';
import { ReturnFilterDto, ReturnGoodsDto, ReturnView, ReverseReturnDto } from './returns.dto.js';
import { ReturnsService } from './returns.service.js';

@Controller('returns')
export class ReturnsController {
  constructor(private readonly returns: ReturnsService) {}

  /** Books goods that came back from a customer; they stand in quarantine, and who had them stays known. */
  @Post()
  @May('clerk', 'dispatcher', 'administrator')
  bookReturn(@CurrentActor() actor: Actor, @Body() body: ReturnGoodsDto): Promise<ReturnView> {
    return this.returns.book(actor, body);
  }

  /** Puts right a return booked in error: its goods are with the customer, as before it. */
  @Post(':returned/reversal')
  @HttpCode(200)
  @May('clerk', 'dispatcher', 'administrator')
  reverseReturn(@CurrentActor() actor: Actor, @Param('returned') returned: string, @Body() body: ReverseReturnDto): Promise<ReturnView> {
    return this.returns.reverse(actor, returned, body);
  }

  /** The latest 200 returns that fit, newest first. */
  @Get()
  @May(...EVERYONE)
  listReturns(@Query() filter: ReturnFilterDto): Promise<ReturnView[]> {
    return this.returns.goodsReturns(filter);
  }

  /** One return. */
  @Get(':returned')
  @May(...EVERYONE)
  getReturn(@Param('returned') returned: string): Promise<ReturnView> {
    return this.returns.goodsReturn(returned);
  }
}
