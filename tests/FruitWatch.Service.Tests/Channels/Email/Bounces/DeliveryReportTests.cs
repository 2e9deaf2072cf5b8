using FruitWatch.Service.Channels.Email.Bounces;

namespace FruitWatch.Service.Tests.Channels.Email.Bounces;

/// <summary>RFC 3464 section 2.3, RFC 3463 section 2.</summary>
public sealed class DeliveryReportTests
{
    [Theory]
    [InlineData("simple", Fault.Passing, "4.0.0", "smtp; 426 connection timed out")]
    [InlineData("postfix-like", Fault.Mailbox, "5.1.1", "smtp; 550 5.1.1 <ana@growers.invalid>: Recipient address rejected: User unknown in virtual mailbox table")]
    [InlineData("exim-like", Fault.Passing, "5.0.0", "5.0.0")]
    [InlineData("exchange-like", Fault.Mailbox, "5.1.10", "smtp;550 5.1.10 RESOLVER.ADR.RecipientNotFound; Recipient ana@growers.invalid not found by SMTP address lookup")]
    [InlineData("mailbox-full", Fault.Passing, "4.2.2", "smtp; 452-4.2.2 The account that you tried to reach is over quota.")]
    [InlineData("odd-names-no-status", Fault.Passing, "5.0.0", "smtp; 550 No such user here")]
    [InlineData("encoded-no-report-type", Fault.Elsewhere, "5.7.1", "x-local; delivery not authorized")] // RFC 3463 section 3.8: policy, not the mailbox
    internal void A_failure_is_read_in_every_dialect(string sample, Fault fault, string status, string detail)
    {
        var report = DeliveryReport.Of(ReportSamples.Read(sample));

        Assert.True(report.IsReport);
        Assert.Contains("bounces+x@alder.invalid", DeliveryReport.Addresses(ReportSamples.Read(sample)));
        Assert.Equal(new DeliveryFailure(fault, status, detail), report.Failure);
    }

    [Theory]
    [InlineData("delayed")]
    [InlineData("delivered")]
    [InlineData("relayed")]
    [InlineData("expanded")]
    [InlineData("forwarded-to-two-one-reached")]
    public void What_is_late_or_arrived_is_no_failure(string sample)
    {
        var report = DeliveryReport.Of(ReportSamples.Read(sample));

        Assert.True(report.IsReport);
        Assert.Null(report.Failure);
    }

    [Theory]
    [InlineData("vacation")]
    [InlineData("read-receipt")]
    [InlineData("report-inside-a-letter")]
    public void What_is_no_report_of_delivery_is_none(string sample) => Assert.False(DeliveryReport.Of(ReportSamples.Read(sample)).IsReport);

    [Theory]
    [InlineData("5.1.1", null, Fault.Mailbox, "5.1.1")]
    [InlineData("5.01.001 (bad)", null, Fault.Mailbox, "5.1.1")]
    [InlineData("550 5.1.1", null, Fault.Mailbox, "5.1.1")]
    [InlineData("4.4.7", "smtp; 550 5.4.7 expired", Fault.Passing, "4.4.7")]
    [InlineData(null, "smtp; 550-5.2.1 disabled", Fault.Mailbox, "5.2.1")]
    [InlineData("5.0.0", "smtp; 550 5.1.1 unknown", Fault.Mailbox, "5.1.1")]
    [InlineData("5.0.0", "smtp; 550 5.7.1 blocked", Fault.Elsewhere, "5.7.1")]
    [InlineData("4.0.0", "smtp; 550 5.1.1 unknown", Fault.Passing, "4.0.0")]
    [InlineData("5.0.0", "smtp; 550 no", Fault.Passing, "5.0.0")]
    [InlineData("", "smtp; 451 later", Fault.Passing, "4.0.0")]
    [InlineData("nonsense", "10.5.1.1 is a host", Fault.Passing, "4.0.0")]
    [InlineData("5.1.1.1", null, Fault.Passing, "4.0.0")]
    [InlineData(null, null, Fault.Passing, "4.0.0")]
    [InlineData("5.١.1", "smtp; 5٥٥ x", Fault.Passing, "4.0.0")] // digits, but of another script
    internal void A_code_is_found_and_in_doubt_the_address_is_spared(string? status, string? diagnostic, Fault fault, string code)
    {
        var failure = DeliveryFailure.Of(status, diagnostic)!;

        Assert.Equal((fault, code), (failure.Fault, failure.Status));
    }

    /// <summary>RFC 3463 sections 3.2 to 3.8.</summary>
    [Theory]
    [InlineData("5.1.0", Fault.Mailbox)]
    [InlineData("5.1.2", Fault.Mailbox)]
    [InlineData("5.1.10", Fault.Mailbox)] // RFC 7505
    [InlineData("5.1.7", Fault.Elsewhere)] // the sender's address
    [InlineData("5.1.8", Fault.Elsewhere)]
    [InlineData("4.1.8", Fault.Elsewhere)]
    [InlineData("5.2.0", Fault.Passing)]
    [InlineData("5.2.1", Fault.Mailbox)]
    [InlineData("5.2.2", Fault.Passing)] // full
    [InlineData("5.2.3", Fault.Elsewhere)] // too long
    [InlineData("5.3.0", Fault.Elsewhere)]
    [InlineData("5.3.4", Fault.Elsewhere)]
    [InlineData("5.4.4", Fault.Elsewhere)]
    [InlineData("5.5.0", Fault.Elsewhere)]
    [InlineData("5.6.0", Fault.Elsewhere)]
    [InlineData("5.7.1", Fault.Elsewhere)]
    [InlineData("5.7.26", Fault.Elsewhere)] // RFC 7372: neither SPF nor DKIM
    [InlineData("4.7.0", Fault.Elsewhere)]
    [InlineData("4.2.1", Fault.Passing)]
    [InlineData("4.4.1", Fault.Passing)]
    [InlineData("5.9.9", Fault.Passing)]
    internal void Only_what_is_said_of_the_mailbox_counts_against_it(string status, Fault fault) =>
        Assert.Equal(fault, DeliveryFailure.Of(status, null)!.Fault);

    [Theory]
    [InlineData("550 5.1.1 No such user", Fault.Mailbox, "5.1.1")]
    [InlineData("550 No such user", Fault.Mailbox, "5.0.0")]
    [InlineData("551 not here", Fault.Mailbox, "5.0.0")]
    [InlineData("553 no such name", Fault.Mailbox, "5.0.0")]
    [InlineData("552 full", Fault.Passing, "5.0.0")]
    [InlineData("552 5.2.2 full", Fault.Passing, "5.2.2")]
    [InlineData("554 no", Fault.Elsewhere, "5.0.0")]
    [InlineData("554 4.1.1 odd", Fault.Elsewhere, "5.0.0")]
    [InlineData("550 5.7.1 relaying denied", Fault.Elsewhere, "5.7.1")]
    [InlineData("550-5.7.1 blocked, see version 5.1.1", Fault.Elsewhere, "5.7.1")]
    [InlineData("571 no", Fault.Elsewhere, "5.0.0")]
    [InlineData("5", Fault.Elsewhere, "5.0.0")]
    internal void What_the_relay_says_at_once_is_sorted_too(string reply, Fault fault, string code) =>
        Assert.Equal((fault, code), (DeliveryFailure.OfReply(reply).Fault, DeliveryFailure.OfReply(reply).Status));
}
