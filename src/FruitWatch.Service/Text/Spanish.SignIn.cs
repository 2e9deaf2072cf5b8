using FruitWatch.Service.SignIn;
using NodaTime;

namespace FruitWatch.Service.Text;

internal sealed partial class Spanish
{
    public override string SignInTitle => "Iniciar sesión";

    public override string SignOutButton => "Cerrar sesión";

    public override string AccountLink => "Cuenta";

    public override string SignInEmail => "Dirección de correo";

    public override string SignInEmailWrong => "Escribe una sola dirección de correo, como nombre@example.org.";

    public override string SignInPassword => "Contraseña";

    public override string SignInButton => "Iniciar sesión";

    public override string SignInForgotten => "¿Olvidaste la contraseña?";

    public override string SignInPasskey => "Iniciar sesión con una llave de acceso";

    public override string SignInPasskeySaid => "Con una llave de acceso no hacen falta ni dirección ni contraseña.";

    public override string SignInNoAccount => "¿Aún sin cuenta? La coordinación de tu cooperativa invita por correo. Si trabajas con un enlace personal, abre ese enlace.";

    public override string SignInWrong => "La dirección y la contraseña no corresponden. Revisa las dos.";

    public override string SignInWait(int seconds) =>
        $"Hubo demasiados intentos fallidos y por ahora no se mira ninguno. Prueba de nuevo en {Wait(seconds)}. Poner una contraseña nueva por correo funciona enseguida.";

    public override string TooOftenTitle => "Demasiados intentos";

    public override string TooOftenAdvice(int seconds) => $"Llegaron demasiados formularios desde tu conexión en un minuto. No se cambió nada. Prueba de nuevo en {Wait(seconds)}.";

    public override string? SignInDone(string done) => done switch
    {
        "out" => "Has cerrado la sesión.",
        "everywhere" => "Has cerrado la sesión en todos los dispositivos.",
        "reset" => "Tu contraseña nueva está puesta. Inicia sesión con ella.",
        _ => null,
    };

    public override string SecondTitle => "Segundo paso";

    public override string SecondCode => "Código de tu aplicación";

    public override string SecondHint => "Seis cifras. Cada código vale una vez; si acabas de usarlo, espera al siguiente.";

    public override string SecondButton => "Continuar";

    public override string SecondNoPhone => "¿Sin el teléfono a mano? Usa un código de recuperación";

    public override string SecondRecovery => "Código de recuperación";

    public override string SecondRecoveryHint => "Uno de los que guardaste al preparar la aplicación. Después queda gastado.";

    public override string SecondWrong(bool recovery) => recovery
        ? "No es ninguno de tus códigos de recuperación, o ya se usó."
        : "Ese código no es correcto, o ya se usó. Toma el que la aplicación muestra ahora.";

    public override string SecondGone => "Este paso ha caducado, o se empezó en otra ventana. Empieza otra vez con tu contraseña.";

    public override string AdviceTitle => "Añade un segundo paso, por favor";

    public override string AdviceSaid =>
        "Aquí puedes cambiarlo todo, y también quien consiga tu contraseña. Un código de una aplicación en tu teléfono, o una llave de acceso, se lo impide. Lleva dos minutos.";

    public override string AdviceAdd => "Añadirlo ahora";

    public override string AdviceLater => "Ahora no";

    public override string MembershipTitle => "Tus cooperativas";

    public override string MembershipLead => "Perteneces a varias. Elige la que quieres ver.";

    public override string MembershipNone => "No perteneces a ninguna cooperativa.";

    public override string MembershipNow => "elegida ahora";

    public override string MembershipSwitch => "Otra cooperativa";

    public override string ForgottenTitle => "Una contraseña nueva";

    public override string ForgottenLead => "Enviamos un enlace a tu dirección. Con él pones una contraseña nueva, aunque el inicio de sesión tenga que esperar.";

    public override string ForgottenButton => "Enviar un enlace";

    public override string ForgottenAsked(string email) =>
        $"Si {email} es la dirección confirmada de una cuenta, un enlace va de camino. Vale dos horas y una sola vez. Mira también en el correo no deseado.";

    public override string ResetTitle => "Poner una contraseña nueva";

    public override string ResetLead => "La anterior deja de valer, y se cierra la sesión en los demás dispositivos.";

    public override string ResetButton => "Poner contraseña";

    public override string LinkGoneTitle => "Este enlace ya no sirve";

    public override string LinkGone => "Ha caducado, ya se usó, o se envió otro más nuevo. No se cambió nada.";

    public override string PasswordNew => "Contraseña nueva";

    public override string PasswordHint => "De 12 a 128 caracteres de cualquier clase. Sirven bien tres o cuatro palabras que no tengan que ver entre sí; mejor aún la de un gestor de contraseñas.";

    public override string PasswordWrong(PasswordFault fault) => fault switch
    {
        PasswordFault.Short => "Demasiado corta: usa 12 caracteres o más.",
        PasswordFault.Long => "Demasiado larga: se guardan 128 caracteres como mucho.",
        PasswordFault.Named => "Está hecha de tu nombre, tu dirección, el nombre de tu cooperativa o FruitWatch. Es lo primero que se prueba; usa otras palabras.",
        PasswordFault.Common => "Está entre las contraseñas que se prueban primero, o cerca de una. Usa palabras que no suelan ir juntas.",
        _ => "Se repite, o sigue el teclado, el abecedario o una serie de números. Se adivina pronto; usa otra cosa.",
    };

    public override string InvitationTitle(string cooperative) => $"Unirse a {cooperative}";

    public override string InvitationSaid(string name, string role) => $"{name}, tienes una invitación para unirte. Tu papel: {role}.";

    public override string InvitationMake => "Pon una contraseña con la que iniciar sesión desde ahora.";

    public override string InvitationJoin => "Unirme";

    public override string InvitationJoinAs(string own, string invited) => string.Equals(own, invited, StringComparison.OrdinalIgnoreCase)
        ? $"Tu sesión es la de {own} y te unes con esta cuenta."
        : $"Tu sesión es la de {own} y te unes con esta cuenta. La invitación se envió a {invited}; allí van los correos de esta cooperativa.";

    public override string InvitationHasAccount(string email) => $"Hay una cuenta para {email}. Inicia sesión con ella y únete después.";

    public override string InvitationOther => "Tengo una cuenta con otra dirección";

    public override string InvitationAlready => "Ya perteneces a esta cooperativa, o la invitación se aceptó hace un momento.";

    public override string InvitationGoneTitle => "Esta invitación no sirve";

    public override string InvitationGone => "Ha caducado, ya se aceptó, o se retiró. Pide otra a la coordinación.";

    public override string SetupTitle => "Preparar FruitWatch";

    public override string SetupLead => "Así se crean la primera cooperativa y la primera cuenta. Quien la tiene coordina la cooperativa y lleva este servicio.";

    public override string SetupCooperative => "Nombre de la cooperativa";

    public override string SetupCooperativeHint => "Si hay una con este nombre, pasas a coordinarla.";

    public override string SetupName => "Tu nombre";

    public override string SetupNameWrong => "Escribe un nombre de 80 caracteres como mucho.";

    public override string SetupButton => "Crear cuenta";

    public override string SetupGone =>
        "Esta dirección ya no sirve: vale una hora, hasta que existe la primera cuenta. Vuelve a arrancar el servicio para tener otra, o usa la orden coordinator add.";

    public override string SecurityTitle => "Cómo inicias sesión";

    public override string SecurityLead(string email) => $"Cuenta {email}.";

    public override string SecurityDemo => "Esto es la demostración: aquí nadie inicia sesión y nadie tiene cuenta. En el servicio, esta página cambia tu contraseña, tu segundo paso y tu dirección.";

    public override string SecurityNoMember => "Ahora no perteneces a ninguna cooperativa. La coordinación puede invitarte.";

    public override string SecuritySecond => "Segundo paso";

    public override string SecurityCodesOn(int recoveryCodes) => recoveryCodes switch
    {
        0 => "Se pide el código de tu aplicación. No quedan códigos de recuperación: crea otros.",
        1 => "Se pide el código de tu aplicación. Queda un código de recuperación: crea otros.",
        _ => $"Se pide el código de tu aplicación. Quedan {Number(recoveryCodes)} códigos de recuperación.",
    };

    public override string SecurityCodesOff => "No se pide ningún código de aplicación.";

    public override string SecurityAdvice => "Añade un segundo paso, por favor: aquí puedes cambiarlo todo, y también quien consiga tu contraseña.";

    public override string SecurityCodesAdd => "Añadir una aplicación";

    public override string SecurityCodesChange => "Códigos de recuperación, otro teléfono, quitar";

    public override string SecurityPasskeys(int count) => count switch
    {
        0 => "No tienes ninguna llave de acceso.",
        1 => "Tienes una llave de acceso.",
        _ => $"Tienes {Number(count)} llaves de acceso.",
    };

    public override string SecurityPasskeysChange => "Añadir o cambiar llaves de acceso";

    public override string SecurityPassword => "Contraseña";

    public override string SecurityPasswordChange => "Cambiar contraseña";

    public override string SecurityPresent => "Contraseña actual";

    public override string SecurityPresentOrCode => "Contraseña actual, o un código de tu aplicación";

    public override string SecurityPresentWrong => "No es correcto. No se cambió nada.";

    public override string SecurityAddress => "Dirección de correo";

    public override string SecurityUnconfirmed => "Aún sin confirmar. Hasta entonces no se puede enviar allí una contraseña nueva.";

    public override string SecurityConfirmAgain => "Enviar otra vez el enlace";

    public override string SecurityAddressNew => "Dirección nueva";

    public override string SecurityAddressHint => "Enviamos allí un enlace. La dirección vale cuando lo hayas abierto.";

    public override string SecurityAddressChange => "Cambiar dirección";

    public override string SecuritySessions => "Dispositivos";

    public override string SecuritySessionsSaid => "¿Perdiste un teléfono, o usaste un ordenador ajeno? Cierra la sesión en todos los dispositivos, también en este.";

    public override string SecurityEverywhere => "Cerrar sesión en todas partes";

    public override string SecurityFailed => "No funcionó; no se cambió nada. Empieza otra vez.";

    public override string? SecurityDone(string done) => done switch
    {
        "password" => "Tu contraseña está cambiada. En los demás dispositivos se cerró la sesión.",
        "address" => "Si la dirección nueva se puede usar, un enlace va de camino. Hasta que se abra vale la anterior.",
        "confirm" => "Un enlace va de camino a tu dirección.",
        "codes-on" => "Desde ahora se pide el código de tu aplicación. En los demás dispositivos se cerró la sesión.",
        "codes-off" => "Ya no se pide ningún código.",
        "recovery" => "Hay códigos de recuperación nuevos. Los anteriores ya no valen.",
        "passkey-added" => "La llave de acceso está añadida.",
        "passkey-renamed" => "La llave de acceso tiene su nombre nuevo.",
        "passkey-removed" => "La llave de acceso está quitada. Bórrala también en el dispositivo.",
        _ => null,
    };

    public override string CodesTitle => "Códigos de una aplicación";

    public override string CodesLead => "Una aplicación de autenticación en tu teléfono muestra un código nuevo cada medio minuto, sin conexión. Se pide después de la contraseña.";

    public override string CodesBeginSaid => "Hace falta una aplicación de autenticación. Casi todos los teléfonos y gestores de contraseñas tienen una.";

    public override string CodesBegin => "Preparar";

    public override string CodesScan => "Escanea esta imagen con la aplicación.";

    public override string CodesPicture => "Código QR para la aplicación de autenticación; el mismo secreto está en letras más abajo.";

    public override string CodesType => "O escribe en ella este secreto:";

    public override string CodesEnter => "Código que la aplicación muestra ahora";

    public override string CodesConfirm => "Activar";

    public override string CodesRecoveryTitle => "Tus códigos de recuperación";

    public override string CodesRecoverySaid => "Imprímelos o apúntalos y guárdalos lejos del teléfono: cada uno abre una vez si el teléfono se pierde. No se muestran otra vez.";

    public override string CodesKept => "Los he guardado";

    public override string CodesRecoveryNew => "Crear códigos de recuperación nuevos";

    public override string CodesOtherPhone => "Preparar otro teléfono";

    public override string CodesOff => "Quitar";

    public override string PasskeysTitle => "Llaves de acceso";

    public override string PasskeysLead => "Una llave de acceso la guarda tu teléfono, ordenador o gestor de contraseñas y se abre con el dedo, la cara o un PIN. Sustituye a la contraseña y al código, y no sirve a quien te engañe con una página falsa.";

    public override string PasskeysNeedScript => "Añadir una llave de acceso necesita JavaScript, porque los navegadores solo se las dan a los scripts. Todo lo demás funciona sin él.";

    public override string PasskeysFull(int most) => $"Tienes {Number(most)} llaves de acceso. Quita antes una.";

    public override string PasskeyMade(LocalDate day) => $"Añadida el {day.ToString("d 'de' MMMM 'de' uuuu", Culture)}";

    public override string PasskeyChange => "Cambiar el nombre o quitar";

    public override string PasskeyName => "Nombre";

    public override string PasskeyNameHint => "Para reconocerla, como «teléfono» o «llave del cajón».";

    public override string PasskeyNameless(int number) => $"Llave de acceso {Number(number)}";

    public override string PasskeyRename => "Cambiar el nombre";

    public override string PasskeyRemove => "Quitar";

    public override string PasskeyAdd => "Añadir una llave de acceso";

    public override string PasskeyFailed => "No funcionó con la llave de acceso. No se cambió nada; prueba otra vez, o usa tu contraseña.";

    public override string AddressTitle => "Tu dirección";

    public override string AddressConfirmSaid(string email) => $"¿Es tuya {email}?";

    public override string AddressChangeSaid(string email) => $"¿Ha de ser {email} tu dirección desde ahora? Con ella inicias sesión, y allí van los correos. En los demás dispositivos se cierra la sesión.";

    public override string AddressConfirm => "Sí, es mía";

    public override string AddressDone(string email) => $"{email} está confirmada.";

    public override string AccountMailSubject(AccountNews news) => news switch
    {
        AccountNews.ResetAsked => "Pon una contraseña nueva",
        AccountNews.ConfirmAddress => "Confirma tu dirección",
        AccountNews.NewAddress => "Confirma tu dirección nueva",
        AccountNews.AddressChanged => "Tu dirección se ha cambiado",
        AccountNews.PasswordChanged => "Tu contraseña se ha cambiado",
        AccountNews.CodesOn => "Se ha activado un segundo paso",
        AccountNews.CodesOff => "Se ha quitado el segundo paso",
        AccountNews.RecoveryCodesRenewed => "Hay códigos de recuperación nuevos",
        AccountNews.RecoveryCodeUsed => "Se ha usado un código de recuperación",
        AccountNews.PasskeyAdded => "Se ha añadido una llave de acceso",
        _ => "Se ha quitado una llave de acceso",
    };

    public override string AccountMailGreeting(string? name) => name is null ? "Hola." : $"Hola, {name}.";

    public override string AccountMailSaid(AccountNews news, string email) => news switch
    {
        AccountNews.ResetAsked => "Alguien pidió una contraseña nueva para tu cuenta. Con este enlace la pones. Vale dos horas y una sola vez.",
        AccountNews.ConfirmAddress => "Esta dirección se dio para una cuenta. Abre el enlace y confirma que es tuya; vale un día.",
        AccountNews.NewAddress => $"La cuenta {email} ha de tener esta dirección desde ahora. Abre el enlace y confírmala; vale un día.",
        AccountNews.AddressChanged => $"Tu cuenta tiene ahora la dirección {email}. Desde ahora inicias sesión con ella.",
        AccountNews.PasswordChanged => "La contraseña de tu cuenta se acaba de cambiar. En los demás dispositivos se cerró la sesión.",
        AccountNews.CodesOn => "Desde ahora se pide el código de una aplicación después de tu contraseña.",
        AccountNews.CodesOff => "Ya no se pide el código de una aplicación.",
        AccountNews.RecoveryCodesRenewed => "Se acaban de crear códigos de recuperación nuevos. Los anteriores ya no valen.",
        AccountNews.RecoveryCodeUsed => "Alguien acaba de iniciar sesión con tu contraseña y uno de tus códigos de recuperación.",
        AccountNews.PasskeyAdded => "Se acaba de añadir una llave de acceso a tu cuenta.",
        _ => "Se acaba de quitar una llave de acceso de tu cuenta.",
    };

    public override string AccountMailButton(AccountNews news) => news switch
    {
        AccountNews.ResetAsked => "Poner una contraseña nueva",
        AccountNews.ConfirmAddress or AccountNews.NewAddress => "Confirmar la dirección",
        _ => "Abrir tu cuenta",
    };

    public override string AccountMailIfNotYou(AccountNews news) => news switch
    {
        AccountNews.ResetAsked => "Si no lo has pedido, no hace falta hacer nada: sin este enlace nada cambia.",
        AccountNews.ConfirmAddress or AccountNews.NewAddress => "Si no sabes de qué se trata, no hagas nada: alguien escribió mal la suya.",
        AccountNews.AddressChanged => "Si no has sido tú, avisa enseguida a la coordinación o a quien lleva el servicio.",
        _ => "Si no has sido tú, pon enseguida una contraseña nueva por correo y avisa a la coordinación.",
    };

    public override string AccountMailWhyYou(string email) => $"Recibes esto porque toca a la seguridad de la cuenta {email}. Las respuestas no se leen.";

    private string Wait(int seconds) => WaitOf(seconds, "segundo", "segundos", "minuto", "minutos");
}
