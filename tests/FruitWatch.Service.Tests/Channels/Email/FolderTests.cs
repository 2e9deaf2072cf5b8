using FruitWatch.Service.Channels.Email;
using FruitWatch.Store.Entities;
using MimeKit;

namespace FruitWatch.Service.Tests.Channels.Email;

public sealed class FolderTests : SenderTests
{
    [Fact]
    public async Task Without_a_relay_each_mail_becomes_a_file_that_reads_back_the_same()
    {
        var mail = Mail("Inés");
        mail.Subject = "Regar Camino hoy; primordios pronto 🍄";
        mail.TextBody = "¡Buenos días!\n\n.\nUna línea con un punto solo arriba, y otra muy larga: " + new string('ñ', 1500) + "\n";
        mail.HtmlBody = "<!doctype html>\n<p>¡Buenos días! <b>25 litros</b></p>\n";
        await PutAsync(mail);

        Assert.Equal(MailRun.Nothing with { Sent = 1 }, await Sender(new MailOptions()).SendDueAsync(CancellationToken.None));

        var file = Assert.Single(Directory.GetFiles(MailFolder));
        Assert.Equal($"2026-10-05-{mail.Id}-ins@growers.invalid.eml", Path.GetFileName(file));
        var lines = await File.ReadAllLinesAsync(file);
        Assert.All(lines, line => Assert.InRange(line.Length, 0, 78));
        Assert.All(lines, line => Assert.True(System.Text.Ascii.IsValid(line), line));
        using var message = await MimeMessage.LoadAsync(file);
        Assert.Equal(mail.Subject, message.Subject);
        Assert.Equal(mail.TextBody, message.TextBody!.ReplaceLineEndings("\n"));
        Assert.Equal(mail.HtmlBody, message.HtmlBody!.ReplaceLineEndings("\n"));
        Assert.Equal(MailState.Sent, await StateAsync("Inés"));
    }

    [Fact]
    public async Task Nothing_in_an_address_leaves_the_folder()
    {
        var mail = Mail("Ana");
        mail.ToAddress = "\"../../../etc/passwd\"@growers.invalid";
        await PutAsync(mail);

        await Sender(new MailOptions()).SendDueAsync(CancellationToken.None);

        var file = Assert.Single(Directory.GetFiles(MailFolder));
        Assert.Equal($"2026-10-05-{mail.Id}-_.._.._.._etc_passwd_@growers.invalid.eml", Path.GetFileName(file));
    }

    [Fact]
    public async Task A_folder_that_cannot_be_written_keeps_the_mails_waiting()
    {
        await PutAsync(Mail("Ana"));
        await File.WriteAllTextAsync(MailFolder, "in the way");

        var run = await Sender(new MailOptions()).SendDueAsync(CancellationToken.None);
        Assert.NotNull(run.Problem);
        Assert.Equal((MailState.Pending, 0), ((await RowAsync("Ana")).State, (await RowAsync("Ana")).Attempts));

        File.Delete(MailFolder);
        Assert.Equal(1, (await Sender(new MailOptions()).SendDueAsync(CancellationToken.None)).Sent);
    }

    [Fact]
    public async Task Two_senders_at_once_write_each_mail_once()
    {
        await PutAsync([.. Enumerable.Range(1, 60).Select(i => Mail($"Person{i}"))]);

        var runs = await Task.WhenAll(
            Sender(new MailOptions()).SendDueAsync(CancellationToken.None), Sender(new MailOptions()).SendDueAsync(CancellationToken.None));

        Assert.Equal(60, runs.Sum(run => run.Sent));
        Assert.Equal(60, Directory.GetFiles(MailFolder, "*.eml").Length);
    }
}
