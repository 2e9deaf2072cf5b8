using System.Text;
using FruitWatch.Service.Channels.Email;
using FruitWatch.Store.Entities;
using MimeKit;

namespace FruitWatch.Service.Tests.Channels.Email;

public sealed class MailMessageTests : SenderTests
{
    private static readonly MailOptions s_options = new() { FromAddress = "beds@alder.invalid", FromName = "Alder Lane\r\nBcc: eve@elsewhere.invalid" };

    [Theory]
    [InlineData("Ana\r\nBcc: eve@elsewhere.invalid", "Ana Bcc: eve@elsewhere.invalid")]
    [InlineData("Ana\nX-Evil: yes", "Ana X-Evil: yes")]
    [InlineData("Ana\0\u0007 B", "Ana B")]
    [InlineData("Ana \u202Emoc.live\u202C", "Ana moc.live")]
    [InlineData("Ana\u2028Line", "Ana Line")]
    [InlineData("🍄 Ana 👩‍🌾", "🍄 Ana 👩‍🌾")]
    [InlineData("\"Ana\" <eve@elsewhere.invalid>", "\"Ana\" <eve@elsewhere.invalid>")]
    public void A_name_is_a_name_whatever_stands_in_it(string name, string shown)
    {
        var mail = Mail("Ana");
        mail.ToName = name;
        mail.Subject = name;

        var message = SentAndReadBack(mail);

        Assert.Equal(shown, message.Subject);
        var to = Assert.IsType<MailboxAddress>(Assert.Single(message.To));
        Assert.Equal((shown, "ana@growers.invalid"), (to.Name, to.Address));
        Assert.Equal("Alder Lane Bcc: eve@elsewhere.invalid", Assert.IsType<MailboxAddress>(Assert.Single(message.From)).Name);
        Assert.Empty(message.Bcc);
        Assert.Equal(
            ["Date", "From", "To", "Subject", "Message-Id", "Auto-Submitted", "X-Auto-Response-Suppress", "MIME-Version", "Content-Type"],
            message.Headers.Concat(message.Body!.Headers).Select(header => header.Field).Distinct().OrderBy(Position));
    }

    [Fact]
    public void It_says_that_no_answer_is_wanted_and_nothing_of_the_machine_it_came_from()
    {
        var text = Written(Mail("Ana"));

        Assert.Contains("Auto-Submitted: auto-generated\r\n", text, StringComparison.Ordinal);
        Assert.Contains("X-Auto-Response-Suppress: All\r\n", text, StringComparison.Ordinal);
        Assert.DoesNotContain(Environment.MachineName, text, StringComparison.OrdinalIgnoreCase);
        Assert.DoesNotContain("MimeKit", text, StringComparison.OrdinalIgnoreCase);
    }

    [Fact]
    public void Half_a_character_is_shown_as_unknown()
    {
        var mail = Mail("Ana");
        mail.ToName = "\ud83c Ana";

        Assert.Equal("\ufffd Ana", SentAndReadBack(mail).To.Mailboxes.Single().Name);
    }

    [Theory]
    [InlineData("digest.1@alder.invalid>\r\nBcc: eve@elsewhere.invalid")]
    [InlineData("digest.Inés@alder.invalid")]
    [InlineData("")]
    public void A_Message_ID_that_is_none_is_refused(string id)
    {
        var mail = Mail("Ana");
        mail.MessageId = id;

        Assert.Throws<MailException>(() => MailMessage.Of(mail, s_options));
    }

    [Fact]
    public void Equal_rows_give_equal_bytes() => Assert.Equal(Written(Mail("Ana")), Written(Mail("Ana")));

    [Fact]
    public void Further_header_fields_are_added_on_one_line()
    {
        var mail = Mail("Ana");
        mail.Headers = """{"List-Unsubscribe":"<https://alder.invalid/stop/1>","X-Bed":"Path\r\nBcc: eve@elsewhere.invalid"}""";

        var message = SentAndReadBack(mail);

        Assert.Equal("<https://alder.invalid/stop/1>", message.Headers["List-Unsubscribe"]);
        Assert.Equal("Path Bcc: eve@elsewhere.invalid", message.Headers["X-Bed"]);
        Assert.Empty(message.Bcc);
    }

    [Theory]
    [InlineData("""{"Bcc":"eve@elsewhere.invalid"}""", "The header field Bcc is not one that a mail may add.")]
    [InlineData("""{"from":"eve@elsewhere.invalid"}""", "The header field from is not one that a mail may add.")]
    [InlineData("""{"X Bed:":"1"}""", "\"X Bed:\" cannot be the name of a header field.")]
    [InlineData("""["X-Bed"]""", "The further header fields are not a JSON object of texts.")]
    public void A_header_field_that_could_change_where_it_goes_is_refused(string headers, string problem)
    {
        var mail = Mail("Ana");
        mail.Headers = headers;

        Assert.Equal(problem, Assert.Throws<MailException>(() => MailMessage.Of(mail, s_options)).Message);
    }

    [Theory]
    [InlineData("")]
    [InlineData("ana")]
    [InlineData("ana@growers.invalid\r\nBcc: eve@elsewhere.invalid")]
    [InlineData("Ana <ana@growers.invalid>")]
    [InlineData("ana@growers.invalid,eve@elsewhere.invalid")]
    public void Anything_but_one_address_is_refused(string address)
    {
        var mail = Mail("Ana");
        mail.ToAddress = address;

        Assert.Throws<MailException>(() => MailMessage.Of(mail, s_options));
    }

    [Fact]
    public void A_long_subject_is_cut_between_characters()
    {
        var mail = Mail("Ana");
        mail.Subject = string.Concat(Enumerable.Repeat("👩‍🌾", 60));

        var subject = SentAndReadBack(mail).Subject!;

        Assert.InRange(subject.Length, 190, 200);
        Assert.Equal(string.Concat(Enumerable.Repeat("👩‍🌾", (subject.Length - 1) / 5)) + "…", subject);
    }

    private static int Position(string field) => Array.IndexOf(
        ["Date", "From", "To", "Subject", "Message-Id", "Auto-Submitted", "X-Auto-Response-Suppress", "MIME-Version", "Content-Type"], field) is var at and >= 0 ? at : 99;

    private static MimeMessage SentAndReadBack(OutgoingMail mail) =>
        MimeMessage.Load(new MemoryStream(Encoding.ASCII.GetBytes(Written(mail))));

    private static string Written(OutgoingMail mail)
    {
        using var message = MailMessage.Of(mail, s_options);
        using var bytes = new MemoryStream();
        var format = FormatOptions.Default.Clone();
        format.NewLineFormat = NewLineFormat.Dos;
        message.WriteTo(format, bytes);
        return Encoding.ASCII.GetString(bytes.ToArray());
    }
}
