using System.Text;
using System.Text.Json;
using FruitWatch.Service.Channels.Email;
using FruitWatch.Service.Channels.Email.Bounces;
using FruitWatch.Service.Operating;
using FruitWatch.Service.Wishes;
using MimeKit;

namespace FruitWatch.Service.Tests.Channels.Email.Bounces;

/// <summary>The field List-Unsubscribe with an address beside the link (RFC 2369, RFC 8058, RFC 6068), and the address.</summary>
public sealed class StopAddressTests : SenderTests
{
    [Theory]
    [InlineData(1, StopTopic.Digest)]
    [InlineData(1234567, StopTopic.Urgent)]
    [InlineData(long.MaxValue, StopTopic.Urgent)]
    internal void It_is_known_in_whatever_case_and_never_when_changed(long person, StopTopic topic)
    {
        var link = new StopLink(person, topic);
        var stops = Stops(Heard());

        var address = stops.Of(link)!;

        Assert.Equal(address, address.ToLowerInvariant());
        Assert.InRange(address.IndexOf('@', StringComparison.Ordinal), 10, 64); // RFC 5321 section 4.5.3.1.1
        Assert.Equal(link, stops.Read(address));
        Assert.Equal(link, stops.Read(address.ToUpperInvariant()));
        Assert.NotEqual(address, stops.Of(link with { Topic = topic == StopTopic.Digest ? StopTopic.Urgent : StopTopic.Digest }));
        for (var i = address.IndexOf('+', StringComparison.Ordinal); i < address.IndexOf('@', StringComparison.Ordinal); i++)
            Assert.Null(stops.Read(address[..i] + (address[i] == 'b' ? 'c' : 'b') + address[(i + 1)..]));
    }

    /// <summary>One can be had by whoever has a mail, the other is seen by servers on the way.</summary>
    [Fact]
    public void An_address_of_bounces_unsubscribes_nobody_and_one_that_does_reports_nothing()
    {
        var mail = Mail("Ana");
        mail.Id = 7;

        Assert.Null(Stops(Heard()).Read(Returns(Heard()).Of(mail).Address));
        Assert.Null(Returns(Heard()).MailOf(Stops(Heard()).Of(new StopLink(7, StopTopic.Digest))!));
    }

    [Fact]
    public void A_domain_of_other_letters_is_written_in_those_of_all_mail_programs_and_known_in_both()
    {
        var options = Heard("bounces@bancales.españa.example");
        var link = new StopLink(7, StopTopic.Digest);

        var address = Stops(options).Of(link)!;

        Assert.EndsWith("@bancales.xn--espaa-rta.example", address, StringComparison.Ordinal);
        Assert.Equal(link, Stops(options).Read(address));
        Assert.Equal(link, Stops(options).Read(address.Replace("xn--espaa-rta", "ESPAÑA", StringComparison.Ordinal)));
    }

    [Theory]
    [InlineData("", null, false)]
    [InlineData("bounces@alder.invalid", null, false)]
    [InlineData("bounces@alder.invalid", "Host", true)]
    [InlineData("bounces@alder.invalid", "HookSecret", true)]
    public void It_is_offered_only_where_somebody_reads_it(string address, string? setting, bool offered)
    {
        var options = Relay(25);
        options.Bounces = new BounceOptions { Address = address };
        if (setting is not null)
            typeof(BounceOptions).GetProperty(setting)!.SetValue(options.Bounces, "x");
        var known = Stops(Heard()).Of(new StopLink(7, StopTopic.Digest))!;

        var fields = new Dictionary<string, string>(Links(options).HeadersOf(new StopLink(7, StopTopic.Digest)));

        Assert.Equal("List-Unsubscribe=One-Click", fields["List-Unsubscribe-Post"]);
        Assert.Matches(
            offered ? "^<https://beds[.]example[.]org/stop/[A-Za-z0-9_-]+>, <mailto:bounces[+][a-z2-7]+@alder[.]invalid[?]subject=unsubscribe>$" : "^<https://beds[.]example[.]org/stop/[A-Za-z0-9_-]+>$",
            fields["List-Unsubscribe"]);
        Assert.Equal(offered, Stops(options).Read(known) is not null);
    }

    /// <summary>Mail programs take neither encoded words in this field nor an address that is broken in two, so that it is folded between the two only.</summary>
    [Theory]
    [InlineData("https://beds.example.org", "b@a.invalid")]
    [InlineData("https://beds.example.org", "bounces.of.our.growers.2@mail.the-alder-lane-growers-of-the-valley.invalid")]
    [InlineData("https://fruitwatch.the-alder-lane-growers-of-the-valley.example.org/and/a/long/path/before/all/of/it/that/somebody/may/want/to/have/there", "bounces@alder.invalid")]
    public void It_is_folded_between_the_two_and_reads_back_as_it_was_written(string baseUrl, string address)
    {
        var options = Heard(address);
        var mail = Mail("Ana");
        var fields = new Dictionary<string, string>(Links(options, baseUrl).HeadersOf(new StopLink(long.MaxValue, StopTopic.Urgent)));
        mail.Headers = JsonSerializer.Serialize(fields);

        using var message = MailMessage.Of(mail, options);
        using var bytes = new MemoryStream();
        message.WriteTo(bytes);

        var text = Encoding.ASCII.GetString(bytes.ToArray()).ReplaceLineEndings("\n");
        var field = text[text.IndexOf("List-Unsubscribe:", StringComparison.Ordinal)..text.IndexOf("List-Unsubscribe-Post:", StringComparison.Ordinal)];
        Assert.All(field.Split('\n'), line => Assert.InRange(line.Length, 0, 998)); // RFC 5322 section 2.1.1
        Assert.All(fields["List-Unsubscribe"].Split(", "), way => Assert.Contains(way, field, StringComparison.Ordinal));
        Assert.DoesNotContain("=?", field, StringComparison.Ordinal);
        bytes.Position = 0;
        Assert.Equal(fields["List-Unsubscribe"], MimeMessage.Load(bytes).Headers[HeaderId.ListUnsubscribe]);
        Assert.InRange(field.Split("mailto:")[1].IndexOf('@', StringComparison.Ordinal), 1, 64);
    }

    private StopAddresses Stops(MailOptions options) => new(options, Key());

    private StopLinks Links(MailOptions options, string baseUrl = "https://beds.example.org") =>
        new(Key(), Stops(options), new ServiceOptions { BaseUrl = new Uri(baseUrl) });

    private static MailOptions Heard(string address = "bounces@alder.invalid")
    {
        var options = Relay(25);
        options.Bounces = new BounceOptions { Address = address, HookSecret = "a-secret-of-more-than-twenty" };
        options.Bounces.Check();
        return options;
    }
}
