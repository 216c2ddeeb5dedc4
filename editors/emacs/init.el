;; Dwell in Emacs with eglot: what is a procedure, and who looks over the shoulder.
(define-derived-mode dwell-mode prog-mode "Dwell" (setq-local comment-start "# "))
(add-to-list 'auto-mode-alist '("\\.dwell\\'" . dwell-mode))
(with-eval-after-load 'eglot (add-to-list 'eglot-server-programs '(dwell-mode . ("dwell" "lsp"))))
(autoload 'eglot-ensure "eglot")
(add-hook 'dwell-mode-hook #'eglot-ensure)
