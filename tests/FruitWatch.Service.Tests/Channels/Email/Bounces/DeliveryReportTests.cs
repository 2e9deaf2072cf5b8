using FruitWatch.Service.Channels.Email.Bounces;

namespace FruitWatch.Service.Tests.Channels.Email.Bounces;

/// <summary>RFC 3464 section 2.3, RFC 3463 section 2.</summary>
public sealed class DeliveryReportTests
{
    [Theory]
    [InlineData("simple", false, "4.0.0", "smtp; 426 connection timed out")]
    [InlineData("postfix-like", true, "5.1.1", "smtp; 550 5.1.1 <ana@growers.invalid>: Recipient address rejected: User unknown in virtual mailbox table")]
    [InlineData("exim-like", true, "5.0.0", "5.0.0")]
    [InlineData("exchange-like", true, "5.1.10", "smtp;550 5.1.10 RESOLVER.ADR.RecipientNotFound; Recipient ana@growers.invalid not found by SMTP address lookup")]
    [InlineData("mailbox-full", false, "4.2.2", "smtp; 452-4.2.2 The account that you tried to reach is over quota.")]
    [InlineData("odd-names-no-status", true, "5.0.0", "smtp; 550 No such user here")]
    [InlineData("encoded-no-report-type", true, "5.7.1", "x-local; delivery not authorized")]
    public void A_failure_is_read_in_every_dialect(string sample, bool permanent, string status, string detail)
    {
        var report = DeliveryReport.Of(ReportSamples.Read(sample));

        Assert.True(report.IsReport);
        Assert.Contains("bounces+x@alder.invalid", report.Addresses);
        Assert.Equal(new DeliveryFailure(permanent, status, detail), report.Failure);
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
    [InlineData("5.1.1", null, true, "5.1.1")]
    [InlineData("5.01.001 (bad)", null, true, "5.1.1")]
    [InlineData("550 5.1.1", null, true, "5.1.1")]
    [InlineData("4.4.7", "smtp; 550 5.4.7 expired", false, "4.4.7")]
    [InlineData(null, "smtp; 550-5.2.1 disabled", true, "5.2.1")]
    [InlineData("", "smtp; 451 later", false, "4.0.0")]
    [InlineData("nonsense", "10.5.1.1 is a host", false, "4.0.0")]
    [InlineData("5.1.1.1", null, false, "4.0.0")]
    [InlineData(null, null, false, "4.0.0")]
    public void A_code_is_found_and_in_doubt_the_address_is_spared(string? status, string? diagnostic, bool permanent, string code)
    {
        var failure = DeliveryFailure.Of(status, diagnostic)!;

        Assert.Equal((permanent, code), (failure.Permanent, failure.Status));
    }

    [Theory]
    [InlineData("550 5.1.1 No such user", "5.1.1")]
    [InlineData("550 No such user", "5.0.0")]
    [InlineData("554 4.1.1 odd", "5.0.0")]
    public void What_the_relay_says_at_once_is_permanent(string reply, string code) =>
        Assert.Equal((true, code), (DeliveryFailure.OfReply(reply).Permanent, DeliveryFailure.OfReply(reply).Status));
}
